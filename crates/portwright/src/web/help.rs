//! The engine file explained: how figures are written, and every key. The key tables come from the file reader's own.

use super::choices::Choices;
use super::page::{Shell, shell};
use engine::file::spec::{Group, Key, Kind, Need, Section, When, Word, spec};
use maud::{Markup, html};

/// The page.
pub(super) async fn show_help(choices: Choices) -> Markup {
    shell(
        choices,
        &Shell { title: "The engine file", here: Some("/help"), base: None, class: "help" },
        &html! {
            header.page-head {
                p.eyebrow { "Help" }
                h1 { "The engine file" }
                p.lead {
                    "One text file describes one engine: what it is, what was measured of it, and what a setting must meet. \
                     Write it in any editor. Take the demo engine's file as a pattern."
                }
            }
            nav.contents-box.panel aria-label="On this page" {
                ul.contents {
                    li { a href="#begin" { "How to begin" } }
                    li { a href="#notation" { "How figures are written" } }
                    @for section in &spec().sections[1..] { li { a href={ "#" (anchor(section)) } { (section.heading()) } } }
                }
            }
            div.chapters {
                (begin())
                (notation())
                @for section in spec().sections { (self::section(section)) }
            }
        },
    )
}

fn begin() -> Markup {
    html! {
        section.panel #begin {
            h2 { "How to begin" }
            ol {
                li { "On the start page, download the demo engine's file, or write it with " code { "portwright demo my-engine.toml" } "." }
                li { "Replace its figures by yours, section by section. Leave out what you do not know: most keys have a stated default, and the answer says what measuring it would buy." }
                li { "Before anything is touched, take the readings of " code { "[found]" } ": the way back starts there." }
                li { "Drop the file on the start page, or run " code { "portwright set my-engine.toml" } ". Errors name the line and what is accepted." }
            }
        }
    }
}

/// Each row: how it is written, and what it says.
const NOTATION: [(&str, &str); 9] = [
    ("\"54.5 mm\"", "A figure and its unit. Without more, it may be off by half of its last digit."),
    ("\"10.2 ± 0.1 mm\"", "Limits: nowhere outside 10.1 to 10.3 mm, anywhere inside."),
    ("\"10.2 ± 0.1 mm (k=2)\"", "An expanded uncertainty as a certificate states it: about 95 % lie inside."),
    ("\"54.5 mm exact\"", "Taken as it stands, without uncertainty."),
    (
        "\"10.2 mm by calliper\"",
        "The instrument gives the uncertainty: calliper, depth gauge, feeler, degree wheel, spring scale.",
    ),
    ("\"4.86 kΩ ± (0.5 % + 2 digits)\"", "The way a multimeter's leaflet states its accuracy."),
    ("\"1 3/32 in\"", "Inches, decimal or in fractions."),
    (
        "\"1.5 turns\", \"81.5°\"",
        "Angles, in degrees or turns. Port angles say from where: after top dead centre, before bottom dead centre.",
    ),
    ("\"not known\"", "The same as leaving the key out: the stated default stands in and is listed."),
];

/// For what, and which units.
const UNITS: [(&str, &str); 10] = [
    ("Lengths", "mm, cm, m, µm, in, thou"),
    ("Angles", "° or deg, rad, turns"),
    ("Volumes", "cm³, cc, ml, l, in³"),
    ("Forces", "N, kN, kgf, gf, lbf"),
    ("Torques", "N·m (or Nm), N·mm, kgf·cm, lbf·ft, lbf·in"),
    ("Stiffness", "N/mm, N/m, kgf/mm, lbf/in"),
    ("Rate of a torsion spring", "N·m/rad, N·m/deg, N·mm/deg, lbf·in/deg"),
    ("Resistance", "Ω (or ohm), kΩ (or kohm), MΩ"),
    ("Engine speed", "rpm, rad/s"),
    ("Plain numbers", "none, or %; they may stand without quotes"),
];

fn notation() -> Markup {
    html! {
        section.panel #notation {
            h2 { "How figures are written" }
            p { "Every figure is text in quotes with its unit, and with how well it is known where you can say so." }
            table.pairs.notation {
                tbody { @for (written, says) in NOTATION { tr { td { code { (written) } } td.muted { (says) } } } }
            }
            h3 { "Units" }
            dl.facts { @for (what, units) in UNITS { div { dt { (what) } dd { (units) } } } }
            p.muted { "A bare number where a unit is needed is refused. What follows a # is a remark." }
        }
    }
}

fn anchor(section: &Section) -> String {
    if section.path.is_empty() { "top".to_owned() } else { section.path.replace('.', "-") }
}

fn section(section: &Section) -> Markup {
    html! {
        section.panel.help-section {
            details.wide-open {
                summary { h2 { @if section.path.is_empty() { "At the very top" } @else { code { (section.heading()) } } } }
                // Inside the folding part: going to it unfolds it.
                p id=(anchor(section)) {
                    (section.doc)
                    @if section.repeated { " Write it once for each." }
                    @if !section.required { " May be left out." }
                }
                div.help-keys { @for key in section.keys { (self::key(section, key)) } }
            }
        }
    }
}

fn key(section: &Section, key: &Key) -> Markup {
    html! {
        div.key id={ (anchor(section)) "-" (key.name) } {
            p.key-head { code { (key.name) } span.muted { (key.doc) } }
            @if !key.example.is_empty() { pre.sample { (key.name) " = " (key.example) } }
            dl {
                @if !key.from.is_empty() { dt { "Measured" } dd { (key.from) } }
                (holds(&key.holds))
                (when(&key.when))
                (need(&key.need, section.groups))
            }
        }
    }
}

fn holds(kind: &Kind) -> Markup {
    html! {
        @match kind {
            Kind::Figure(figure) | Kind::Limit(figure) => {
                dt { "Accepted" } dd { (figure.accepted) }
                @if let Some(usual) = figure.usual { dt { "Usual" } dd { (usual) " (outside it you are asked)" } }
            }
            Kind::Count { least, most } => {
                dt { "Accepted" } dd { "a whole number from " (least) @if *most < u32::MAX { " to " (most) } }
            }
            Kind::Word { words } => { dt { "One of" } dd { (self::words(words)) } }
            Kind::Text { longest } => { dt { "Holds" } dd { "text, up to " (longest) " characters" } }
            Kind::Flag => { dt { "Holds" } dd { code { "true" } " or " code { "false" } } }
            Kind::Names => { dt { "Holds" } dd { "a list of names" } }
            Kind::Points => { dt { "Holds" } dd { "a list of points, each a travel and a lift" } }
        }
    }
}

fn words(words: &[Word]) -> Markup {
    html! { @for word in words { div { code { "\"" (word.word) "\"" } " " (word.meaning) } } }
}

fn when(when: &When) -> Markup {
    html! {
        @match when {
            When::Always => {}
            When::Says { key, words } => { dt { "Only when" } dd { code { (key) } " is " (words.join(" or ")) } }
            When::Given { key } => { dt { "Only when" } dd { code { (key) } " is given" } }
        }
    }
}

fn need(need: &Need, groups: &[Group]) -> Markup {
    html! {
        @match need {
            Need::Required => { dt { "Needed" } dd { "yes" } }
            Need::OneOf { group } => {
                dt { "Needed" }
                dd {
                    @let what = groups.iter().find(|known| known.name == *group).map_or(*group, |known| known.what);
                    "exactly one of the keys that give " (what)
                }
            }
            Need::Optional { buys } => {
                dt { "Needed" } dd { "no" @if !buys.is_empty() { "; giving it buys " (buys) } }
            }
            Need::Default { value, why, buys } => {
                dt { "Left out" } dd { "stands at " (value) " (" (why) ")" @if !buys.is_empty() { "; giving it buys " (buys) } }
            }
            Need::Worked { rule, buys } => {
                dt { "Left out" } dd { "worked out: " (rule) @if !buys.is_empty() { "; giving it buys " (buys) } }
            }
            Need::Means { value } => { dt { "Left out" } dd { "means " (value) } }
        }
    }
}
