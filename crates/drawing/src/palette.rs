//! The colours and what each means.
//!
//! Hues follow the set of Okabe and Ito (Okabe, M., Ito, K., 2008, "Color Universal Design: how to make figures and
//! presentations that are friendly to colorblind people"; values from memory), darkened on light ground and lightened
//! on dark ground so that lines reach a contrast of 3 : 1 and text 4.5 : 1 (W3C, Web Content Accessibility Guidelines
//! 2.2, criteria 1.4.11 and 1.4.3). `docs/looks.md` lists the same table.

/// One colour of the page: a CSS custom property with its value on light and on dark ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour {
    /// Name of the custom property without its two hyphens.
    pub name: &'static str,
    /// Value on light ground, `#rrggbb`.
    pub light: &'static str,
    /// Value on dark ground, `#rrggbb`.
    pub dark: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

const fn colour(
    name: &'static str,
    light: &'static str,
    dark: &'static str,
    meaning: &'static str,
) -> Colour {
    Colour { name, light, dark, meaning }
}

/// Every colour, in the order of `docs/looks.md`.
pub const COLOURS: &[Colour] = &[
    colour("paper", "#ffffff", "#12161b", "ground of page, cards and drawings"),
    colour("surface", "#f4f6f8", "#1a2027", "ground of bars, fields and code, one step off the paper"),
    colour("ink", "#16202b", "#e8edf2", "text, outlines, the proposed setting"),
    colour("muted", "#54616f", "#9aa8b6", "second text, dimension lines, units"),
    colour("line", "#c6ced6", "#39444f", "rules, borders, grid"),
    colour("accent", "#155a8a", "#7cc0ee", "things that can be pressed; never in a drawing"),
    colour("on-accent", "#ffffff", "#0b1116", "text on accent"),
    colour("good", "#007357", "#2fc89b", "target, flush, within limits"),
    colour("good-soft", "#d5efe6", "#113b30", "acceptance band, ground of a pass"),
    colour("bad", "#b63c00", "#ff8a5c", "fault, outside limits, danger"),
    colour("bad-soft", "#fbe2d6", "#46200f", "ground of a fault"),
    colour("warn", "#7d5a00", "#f0c419", "cannot tell, look again, caution"),
    colour("warn-soft", "#fbf0c8", "#3d3208", "ground of a caution"),
    colour("wire-opening", "#0072b2", "#56b4e9", "opening cable"),
    colour("wire-closing", "#9c6200", "#e69f00", "closing cable, always with a broken line"),
    colour("as-found", "#a03d78", "#e08fc0", "the state before anything was touched"),
    colour("valve", "#bcdcf0", "#2a5b7c", "the valve: blade, flap, drum"),
    colour("metal", "#dfe4e9", "#333d47", "parts seen from outside: pulleys, brackets, adjusters"),
    colour("cut", "#eef1f4", "#20272e", "cut metal under its hatching"),
    colour("piston", "#d0d6dc", "#434e59", "piston"),
    colour("open-area", "#fdf3b0", "#5a5210", "open part of a port"),
    colour("curve-2", "#7a5c2e", "#d0ab72", "second curve where no other meaning applies"),
    colour("curve-3", "#3f6f8f", "#8fb8d3", "third curve"),
    colour("curve-4", "#6a6f2a", "#bcc26a", "fourth curve"),
    colour("shade-1", "#f1f6fa", "#172028", "least of a quantity that fills an area"),
    colour("shade-2", "#dceaf4", "#1a2b39", "one step more"),
    colour("shade-3", "#c5ddee", "#1d374b", "two steps more"),
    colour("shade-4", "#abcfe6", "#20435e", "three steps more"),
    colour("shade-5", "#8fbfde", "#235071", "four steps more"),
    colour("shade-6", "#70add3", "#265d84", "most of it"),
];

#[cfg(test)]
mod tests {
    use super::*;

    fn channel(hex: &str, at: usize) -> f64 {
        let c = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    }

    fn luminance(hex: &str) -> f64 {
        0.2126 * channel(hex, 1) + 0.7152 * channel(hex, 3) + 0.0722 * channel(hex, 5)
    }

    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn find(name: &str) -> &'static Colour {
        COLOURS.iter().find(|c| c.name == name).unwrap()
    }

    #[test]
    fn exact_contrast_of_black_on_white_is_21() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    }

    /// W3C, Web Content Accessibility Guidelines 2.2, criterion 1.4.3: 4.5 : 1 for text.
    #[test]
    fn practice_text_colours_reach_the_contrast_of_wcag() {
        let grounds = ["paper", "surface"];
        let texts = [
            "ink",
            "muted",
            "accent",
            "good",
            "bad",
            "warn",
            "wire-opening",
            "wire-closing",
            "as-found",
            "curve-2",
            "curve-3",
            "curve-4",
        ];
        for ground in grounds.map(find) {
            for text in texts.map(find) {
                for (a, b, which) in [(text.light, ground.light, "light"), (text.dark, ground.dark, "dark")] {
                    let ratio = contrast(a, b);
                    assert!(ratio >= 4.5, "{} on {} ({which}) has {ratio:.2}", text.name, ground.name);
                }
            }
        }
        for (text, ground) in [
            ("good", "good-soft"),
            ("bad", "bad-soft"),
            ("warn", "warn-soft"),
            ("on-accent", "accent"),
            ("ink", "valve"),
            ("ink", "metal"),
            ("ink", "piston"),
            ("ink", "open-area"),
            ("ink", "cut"),
            ("ink", "shade-1"),
            ("ink", "shade-6"),
        ] {
            let (text, ground) = (find(text), find(ground));
            assert!(contrast(text.light, ground.light) >= 4.5, "{} on {} light", text.name, ground.name);
            assert!(contrast(text.dark, ground.dark) >= 4.5, "{} on {} dark", text.name, ground.name);
        }
    }

    #[test]
    fn agrees_with_the_table_in_docs() {
        let doc = include_str!("../../../docs/looks.md");
        for c in COLOURS {
            let row = format!("| `--{}` | `{}` | `{}` | {} |", c.name, c.light, c.dark, c.meaning);
            assert!(doc.contains(&row), "docs/looks.md lacks this row:\n{row}");
        }
    }
}
