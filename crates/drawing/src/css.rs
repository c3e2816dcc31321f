//! The style sheet of drawings for screen (light and dark) and print.

use crate::palette::{COLOURS, Colour};
use crate::style::Style;
use std::fmt::Write;

/// Custom properties and drawing rules together: what a page needs to show drawings.
pub fn css() -> String {
    let mut out = palette_css();
    out.push_str(&rules_css());
    out
}

/// The colours as custom properties on `:root`: light by default, dark when the system asks for it or when the root
/// element carries `data-theme="dark"`; `data-theme="light"` keeps light. Print is always light.
pub fn palette_css() -> String {
    let light = properties(|c| c.light);
    let dark = properties(|c| c.dark);
    format!(
        ":root{{color-scheme:light;{light}}}\n\
         @media screen and (prefers-color-scheme:dark){{:root:not([data-theme=light]){{color-scheme:dark;{dark}}}}}\n\
         @media screen{{:root[data-theme=dark]{{color-scheme:dark;{dark}}}}}\n"
    )
}

fn properties(value: impl Fn(&Colour) -> &'static str) -> String {
    COLOURS.iter().fold(String::new(), |mut out, c| {
        let _ = write!(out, "--{}:{};", c.name, value(c));
        out
    })
}

/// The rules that give every class of a drawing its look. A style sets four properties (`--s` line colour, `--f` fill,
/// `--w` line width in mm, `--d` dashes in mm); the role of an element (`line`, `area`, `solid`, `text`) uses them.
pub fn rules_css() -> String {
    let mut out = String::from(
        ".drawing{display:block;width:100%;height:auto;font-family:var(--font,system-ui,sans-serif);\
         font-variant-numeric:tabular-nums}\n\
         .drawing .line{fill:none;stroke:var(--s);stroke-width:var(--w);stroke-dasharray:var(--d);\
         stroke-linejoin:round}\n\
         .drawing .area{fill:var(--f);fill-rule:evenodd;stroke:var(--s);stroke-width:var(--w);\
         stroke-dasharray:none;stroke-linejoin:round}\n\
         .drawing .solid{fill:var(--s);stroke:none}\n\
         .drawing .text{fill:var(--s);stroke:none}\n\
         .drawing .strong{font-weight:650}\n\
         .drawing .halo{paint-order:stroke;stroke:var(--paper);stroke-width:.9;stroke-linejoin:round}\n",
    );
    for style in Style::ALL {
        let look = style.look();
        let fill = look.fill.map_or("none".to_owned(), |f| format!("var(--{f})"));
        let _ = writeln!(
            out,
            ".drawing .{}{{--s:var(--{});--f:{fill};--w:{};--d:{}}}",
            look.class,
            look.stroke,
            look.width,
            dashes(look.dash)
        );
    }
    out.push_str("@media print{\n");
    for style in Style::ALL {
        let look = style.look();
        let paper = look.paper;
        let _ = writeln!(
            out,
            ".drawing .{}{{--s:{};--f:{};--w:{}}}",
            look.class,
            paper.stroke,
            paper.fill.or(look.fill.map(|_| "#ffffff")).unwrap_or("none"),
            paper.width
        );
    }
    out.push_str("}\n");
    out
}

fn dashes(dash: &[f64]) -> String {
    if dash.is_empty() {
        return "none".to_owned();
    }
    dash.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_braces_are_paired_and_every_class_has_a_rule() {
        let css = css();
        assert_eq!(css.matches('{').count(), css.matches('}').count());
        for style in Style::ALL {
            assert!(css.contains(&format!(".drawing .{}{{", style.class())));
        }
    }

    #[test]
    fn exact_every_property_used_is_defined() {
        let css = css();
        for piece in css.split("var(--").skip(1) {
            let name: String = piece.chars().take_while(|c| c.is_alphanumeric() || *c == '-').collect();
            let known = ["s", "f", "w", "d", "font"].contains(&name.as_str());
            assert!(known || css.contains(&format!("--{name}:#")), "--{name} is used but not defined");
        }
    }
}
