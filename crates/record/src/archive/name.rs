//! Names of the files in an archive. Only names of this list are taken, so none can lead out of it.

use std::fmt;

/// A folder: engine, then build, then job card, each counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Folder {
    pub engine: u32,
    pub build: Option<u32>,
    pub visit: Option<u32>,
}

/// A file in a folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Leaf {
    /// `engine.json`, `build.json` or `visit.json`.
    About,
    Fields,
    History,
    EngineFile,
    Result(u32),
    Inputs(u32),
    Report(u32),
    PictureAbout(u32),
    PictureBytes(u32, &'static str),
}

/// The file that says what the archive is.
pub(crate) const HEAD: &str = "portwright.json";

const PICTURE_ENDINGS: [&str; 3] = ["jpg", "png", "webp"];

impl Folder {
    /// An engine's own.
    pub(crate) fn of_engine(engine: u32) -> Self {
        Self { engine, build: None, visit: None }
    }

    fn about(self) -> &'static str {
        match (self.build, self.visit) {
            (_, Some(_)) => "visit.json",
            (Some(_), None) => "build.json",
            (None, None) => "engine.json",
        }
    }

    /// The folder it stands in.
    pub(crate) fn above(self) -> Option<Self> {
        match (self.build, self.visit) {
            (_, Some(_)) => Some(Self { visit: None, ..self }),
            (Some(_), None) => Some(Self::of_engine(self.engine)),
            (None, None) => None,
        }
    }

    /// The name of a file in it.
    pub(crate) fn name(self, leaf: Leaf) -> String {
        match leaf {
            Leaf::About => format!("{self}/{}", self.about()),
            Leaf::Fields => format!("{self}/fields.json"),
            Leaf::History => format!("{self}/history.json"),
            Leaf::EngineFile => format!("{self}/engine.toml"),
            Leaf::Result(n) => format!("{self}/results/{n}/result.json"),
            Leaf::Inputs(n) => format!("{self}/results/{n}/inputs.toml"),
            Leaf::Report(n) => format!("{self}/results/{n}/report.json"),
            Leaf::PictureAbout(n) => format!("{self}/pictures/{n}.json"),
            Leaf::PictureBytes(n, ending) => format!("{self}/pictures/{n}.{ending}"),
        }
    }

    fn leaf(self, file: &[&str]) -> Option<Leaf> {
        let leaf = match file {
            [about] if *about == self.about() => Leaf::About,
            ["fields.json"] => Leaf::Fields,
            ["history.json"] => Leaf::History,
            ["engine.toml"] if self.build.is_some() => Leaf::EngineFile,
            ["results", n, "result.json"] => Leaf::Result(count(n)?),
            ["results", n, "inputs.toml"] => Leaf::Inputs(count(n)?),
            ["results", n, "report.json"] => Leaf::Report(count(n)?),
            ["pictures", file] => {
                let (n, ending) = file.split_once('.')?;
                match PICTURE_ENDINGS.iter().find(|known| **known == ending) {
                    Some(ending) => Leaf::PictureBytes(count(n)?, ending),
                    None if ending == "json" => Leaf::PictureAbout(count(n)?),
                    None => return None,
                }
            }
            _ => return None,
        };
        let of_visit = !matches!(leaf, Leaf::About | Leaf::Fields | Leaf::History | Leaf::EngineFile);
        (!of_visit || self.visit.is_some()).then_some(leaf)
    }
}

impl fmt::Display for Folder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "engine-{}", self.engine)?;
        if let Some(build) = self.build {
            write!(f, "/build-{build}")?;
        }
        if let Some(visit) = self.visit {
            write!(f, "/visit-{visit}")?;
        }
        Ok(())
    }
}

/// What a name stands for; nothing for a name that no export has.
pub(crate) fn parse(name: &str) -> Option<(Folder, Leaf)> {
    let words: Vec<&str> = name.split('/').collect();
    let (first, mut rest) = words.split_first()?;
    let mut folder = Folder::of_engine(counted(first, "engine-")?);
    if let [next, more @ ..] = rest
        && let Some(build) = counted(next, "build-")
    {
        (folder.build, rest) = (Some(build), more);
        if let [next, more @ ..] = rest
            && let Some(visit) = counted(next, "visit-")
        {
            (folder.visit, rest) = (Some(visit), more);
        }
    }
    Some((folder, folder.leaf(rest)?))
}

fn counted(word: &str, before: &str) -> Option<u32> {
    count(word.strip_prefix(before)?)
}

/// A number from 1, without leading noughts: each file has one name only.
fn count(digits: &str) -> Option<u32> {
    if digits.starts_with('0') || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    digits.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_trips_every_kind_of_name() {
        let engine = Folder::of_engine(3);
        let build = Folder { build: Some(10), ..engine };
        let visit = Folder { visit: Some(2), ..build };
        let of_all = [Leaf::About, Leaf::Fields, Leaf::History];
        let of_visit = [
            Leaf::EngineFile,
            Leaf::Result(1),
            Leaf::Inputs(12),
            Leaf::Report(7),
            Leaf::PictureAbout(4),
            Leaf::PictureBytes(4, "webp"),
        ];
        for (folder, leaf) in [engine, build, visit]
            .into_iter()
            .flat_map(|folder| of_all.map(|leaf| (folder, leaf)))
            .chain(of_visit.map(|leaf| (visit, leaf)))
        {
            assert_eq!(parse(&folder.name(leaf)), Some((folder, leaf)));
        }
        assert_eq!(visit.name(Leaf::PictureBytes(4, "jpg")), "engine-3/build-10/visit-2/pictures/4.jpg");
    }

    #[test]
    fn refuses_names_that_no_export_has() {
        for name in [
            "",
            "/",
            "engine-1",
            "engine-1/",
            "engine-0/engine.json",
            "engine-01/engine.json",
            "engine-+1/engine.json",
            "engine-99999999999/engine.json",
            "engine-1/build.json",
            "engine-1/engine.toml",
            "engine-1/visit-1/visit.json",
            "engine-1/pictures/1.jpg",
            "engine-1/build-1/results/1/result.json",
            "engine-1/build-1/visit-1/pictures/1.svg",
            "engine-1/build-1/visit-1/pictures/1.jpg.json",
            "engine-1/../engine-1/engine.json",
            "../engine-1/engine.json",
            "/engine-1/engine.json",
            "engine-1\\engine.json",
            "engine-1//engine.json",
        ] {
            assert_eq!(parse(name), None, "{name}");
        }
    }
}
