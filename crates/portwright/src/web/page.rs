//! The frame round every page: head, masthead, footer.

use super::assets;
use super::choices::{Choices, Theme};
use super::icon;
use maud::{DOCTYPE, Markup, html};
use quantity::Units;

/// What the frame needs to know of its page.
pub(super) struct Shell<'a> {
    /// Title of the page.
    pub(super) title: &'a str,
    /// Address of the page, so that choices can be switched on it; none for an answer to something sent.
    pub(super) here: Option<&'a str>,
    /// Address of the job card or kept result that the page is about, without a slash at the end.
    pub(super) base: Option<&'a str>,
    /// Class of the page's main part.
    pub(super) class: &'a str,
}

/// Puts a page into its frame.
pub(super) fn shell(choices: Choices, shell: &Shell<'_>, main: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" data-theme=(choices.theme.name()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (shell.title) " · Portwright" }
                link rel="preload" href=(assets::font_address()) as="font" type="font/woff2" crossorigin;
                link rel="stylesheet" href=(assets::style_address());
                link rel="icon" href="/assets/mark.svg" type="image/svg+xml";
                script type="module" src=(assets::script_address()) {}
            }
            body {
                a.skip href="#main" { "Skip to the content" }
                (masthead(choices, shell))
                main #main class=(shell.class) tabindex="-1" { (main) }
                (footer())
            }
        }
    }
}

fn masthead(choices: Choices, shell: &Shell<'_>) -> Markup {
    html! {
        header.masthead {
            a.brand href="/" { (icon::MARK) span { "Portwright" } }
            nav.rooms aria-label="Pages" {
                a href="/" aria-current=[current(shell, "/")] { "Engines" }
                @if let Some(base) = shell.base {
                    // A kept result has no path of its own: it is done.
                    @if base.starts_with("/visit/") {
                        a href=(base) aria-current=[current(shell, base)] { "Path" }
                    }
                    a href={ (base) "/setting" } aria-current=[current(shell, &format!("{base}/setting"))] { "Setting" }
                    a href={ (base) "/sheet" } aria-current=[current(shell, &format!("{base}/sheet"))] { "Sheet" }
                }
                a href="/help" aria-current=[current(shell, "/help")] { "Help" }
            }
            @if let Some(here) = shell.here {
                div.switches {
                    div.segments role="group" aria-label="Units shown" {
                        a href={ (here) "?units=metric" } aria-current=[on(choices.units == Units::Metric)] { "mm" }
                        a href={ (here) "?units=inch" } aria-current=[on(choices.units == Units::Inch)] { "inch" }
                    }
                    (theme_switch(choices.theme, here))
                }
            }
        }
    }
}

fn theme_switch(theme: Theme, here: &str) -> Markup {
    let (now, next) = (theme.name(), theme.next().name());
    html! {
        a.theme href={ (here) "?theme=" (next) } title={ "Colours: " (now) ". Switch to " (next) "." } {
            (icon::LIGHT)
            span.unseen { "Colours: " (now) ". Switch to " (next) "." }
        }
    }
}

fn current(shell: &Shell<'_>, address: &str) -> Option<&'static str> {
    (shell.here == Some(address)).then_some("page")
}

fn on(chosen: bool) -> Option<&'static str> {
    chosen.then_some("true")
}

fn footer() -> Markup {
    html! {
        footer.colophon {
            p {
                "Portwright computes from the figures it is given. The maker's manual and licensed practice come first: \
                 where they differ from this page, follow them."
            }
            p.muted { "Version " (env!("CARGO_PKG_VERSION")) ". Runs on this computer only; nothing is sent anywhere." }
        }
    }
}

/// A pill with a verdict in words and a sign.
pub(super) fn verdict(words: &str) -> Markup {
    let (class, sign) = match words {
        "pass" | "met" => ("pill good", icon::PASS),
        "fail" | "not met" => ("pill bad", icon::FAIL),
        _ => ("pill warn", icon::UNSURE),
    };
    html! { span class=(class) { (sign) (words) } }
}

/// A sentence whose figures stay whole at the end of a line: no break beside ± nor before a unit.
pub(super) fn glued(text: &str) -> String {
    const UNITS: [&str; 9] = ["mm", "in", "N", "°", "%", "kΩ", "Ω", "turns", "flats"];
    let mut out = String::with_capacity(text.len() + 16);
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        out.push_str(word);
        let Some(next) = words.peek() else { break };
        let unit = next.trim_end_matches(['.', ',', ';', ':', ')']);
        let figure = word.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit);
        out.push(if figure || word == "±" || *next == "±" { '\u{a0}' } else { ' ' });
    }
    out
}

/// A text with its first letter large.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_figures_are_glued_and_words_are_not() {
        let text = "down by 0.440 ± 0.069 mm at full travel; below 0.1 mm, none";
        let expected = "down by 0.440\u{a0}±\u{a0}0.069\u{a0}mm at full travel; below 0.1\u{a0}mm, none";
        assert_eq!(glued(text), expected);
        assert_eq!(glued("in 5 steps"), "in 5 steps");
        assert_eq!(glued(""), "");
    }

    #[test]
    fn exact_first_letters() {
        assert_eq!(
            (capital("fully open"), capital("öl"), capital("")),
            ("Fully open".into(), "Öl".into(), "".into())
        );
    }
}
