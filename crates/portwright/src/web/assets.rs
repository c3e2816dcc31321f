//! Style sheet, scripts, font and mark, all part of the program.

use super::refusal::Refusal;
use axum::extract::Path;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::sync::OnceLock;

const FONT: &[u8] = include_bytes!("../../assets/fonts/inter.woff2");
const MARK: &str = include_str!("../../assets/mark.svg");

/// Parts of the style sheet in their order; the colours and the looks of drawings come from `drawing`.
const STYLES: [&str; 13] = [
    include_str!("../../assets/css/ground.css"),
    include_str!("../../assets/css/frame.css"),
    include_str!("../../assets/css/parts.css"),
    include_str!("../../assets/css/engine.css"),
    include_str!("../../assets/css/path.css"),
    include_str!("../../assets/css/form.css"),
    include_str!("../../assets/css/file.css"),
    include_str!("../../assets/css/compare.css"),
    include_str!("../../assets/css/pictures.css"),
    include_str!("../../assets/css/bench.css"),
    include_str!("../../assets/css/power.css"),
    include_str!("../../assets/css/sheet.css"),
    include_str!("../../assets/css/print.css"),
];

const SCRIPTS: [(&str, &str); 11] = [
    ("portwright.js", include_str!("../../assets/js/portwright.js")),
    ("moving.js", include_str!("../../assets/js/moving.js")),
    ("readout.js", include_str!("../../assets/js/readout.js")),
    ("drop.js", include_str!("../../assets/js/drop.js")),
    ("editor.js", include_str!("../../assets/js/editor.js")),
    ("sketches.js", include_str!("../../assets/js/sketches.js")),
    ("fields.js", include_str!("../../assets/js/fields.js")),
    ("bench.js", include_str!("../../assets/js/bench.js")),
    ("progress.js", include_str!("../../assets/js/progress.js")),
    ("unsent.js", include_str!("../../assets/js/unsent.js")),
    ("paper.js", include_str!("../../assets/js/paper.js")),
];

/// The whole style sheet.
pub(super) fn style() -> &'static str {
    static STYLE: OnceLock<String> = OnceLock::new();
    STYLE.get_or_init(|| {
        let mut style = drawing::palette_css();
        style.push_str(&drawing::rules_css());
        STYLES.iter().for_each(|part| style.push_str(part));
        // Lengths of bars: a style attribute is not allowed by the page's policy, a class is.
        for percent in 0..=100 {
            let _ = writeln!(style, ".share-{percent}{{inline-size:{percent}%}}");
        }
        style
    })
}

/// The style sheet of a file that stands alone: nothing is fetched, so the letters are those of the reader's own machine;
/// what is folded on the screen is printed all the same.
pub(super) fn standing_style() -> &'static str {
    static STYLE: OnceLock<String> = OnceLock::new();
    STYLE.get_or_init(|| {
        let whole = style();
        let font =
            whole.find("@font-face").and_then(|from| Some((from, from + whole.get(from..)?.find('}')? + 1)));
        let mut style = match font.and_then(|(from, to)| Some((whole.get(..from)?, whole.get(to..)?))) {
            Some((before, after)) => format!("{before}{after}"),
            None => whole.to_owned(),
        };
        style.push_str("@media print{details::details-content{content-visibility:visible;block-size:auto}}");
        style
    })
}

/// Address of the style sheet; changes with its content, so that it can be kept for long.
pub(super) fn style_address() -> &'static str {
    static ADDRESS: OnceLock<String> = OnceLock::new();
    ADDRESS.get_or_init(|| format!("/assets/portwright.css?v={}", version(&[style()])))
}

/// Address of the first script.
pub(super) fn script_address() -> &'static str {
    static ADDRESS: OnceLock<String> = OnceLock::new();
    ADDRESS.get_or_init(|| format!("/assets/portwright.js?v={}", version(&SCRIPTS.map(|(_, text)| text))))
}

/// Address of the font.
pub(super) fn font_address() -> &'static str {
    "/assets/inter.woff2"
}

fn version(parts: &[&str]) -> String {
    let mut hash = Sha256::new();
    parts.iter().for_each(|part| hash.update(part));
    hash.finalize().iter().take(4).fold(String::new(), |text, byte| text + &format!("{byte:02x}"))
}

/// Gives one of them.
pub(super) async fn serve(Path(name): Path<String>) -> Response {
    // The scripts that others import carry no version in their address: they are asked for anew each time.
    let (kind, bytes, keep): (&str, &'static [u8], &str) = match name.as_str() {
        "portwright.css" => {
            ("text/css; charset=utf-8", style().as_bytes(), "public, max-age=31536000, immutable")
        }
        "inter.woff2" => ("font/woff2", FONT, "public, max-age=604800"),
        "mark.svg" => ("image/svg+xml", MARK.as_bytes(), "public, max-age=604800"),
        other => match SCRIPTS.iter().find(|(name, _)| *name == other) {
            Some((_, text)) => ("text/javascript; charset=utf-8", text.as_bytes(), "no-cache"),
            None => return Refusal::no_page().into_response(),
        },
    };
    ([(CONTENT_TYPE, kind), (CACHE_CONTROL, keep)], bytes).into_response()
}
