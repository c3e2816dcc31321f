//! The keys above all sections, and what the engine is called.

use super::{Key, Section};

pub(super) const TOP: Section = Section {
    path: "",
    repeated: false,
    required: true,
    doc: "These stand at the very top, before the first section.",
    keys: &[
        Key::count("portwright", 1, super::VERSION)
            .needed()
            .doc("Version of this file's layout. Always 1 today.")
            .example("1"),
        Key::names("sure")
            .buys("the question about a figure that is odd but right is not asked again")
            .doc("Keys whose odd figures were checked and are right, copied from the question.")
            .example("[\"crank.bore\"]"),
    ],
    groups: &[],
};

pub(super) const ENGINE: Section = Section {
    path: "engine",
    repeated: false,
    required: true,
    doc: "What the workshop calls it.",
    keys: &[
        Key::text("name", 80)
            .needed()
            .doc("Name shown on every page and sheet.")
            .example("\"Blue 125, frame 7\""),
        Key::flag("invented").means("false").doc("True for a made-up engine.").example("false"),
        Key::text("note", 2000)
            .buys("the sheet carries it")
            .doc("Owner, frame, date, anything to be remembered.")
            .example("\"rebuilt in spring\""),
        Key::count("cylinders", 1, 12)
            .default("1", "most engines with such a gear have one", "areas and volumes of the whole engine")
            .doc("Number of like cylinders; everything else in the file is for one of them.")
            .example("1"),
    ],
    groups: &[],
};
