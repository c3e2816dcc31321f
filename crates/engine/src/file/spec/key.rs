//! One key of the engine file: what it holds, what is accepted, and what stands in when it is left out.

use super::Range;
use quantity::Dimension;
use serde::Serialize;

/// What a key holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum Kind {
    /// A measured figure, text with a unit (a plain number may be written without quotes).
    Figure(Figure),
    /// A limit: a figure, alone or as `{ value = "...", from = "..." }`.
    Limit(Figure),
    /// One line of text of at most `longest` characters.
    Text {
        /// Most characters accepted.
        longest: usize,
    },
    /// A whole number without unit.
    Count {
        /// Least accepted.
        least: u32,
        /// Most accepted.
        most: u32,
    },
    /// `true` or `false`.
    Flag,
    /// One of a few words.
    Word {
        /// The words and what each means.
        words: &'static [Word],
    },
    /// A list of texts.
    Names,
    /// A list of `{ travel = "...", lift = "..." }`.
    Points,
}

/// A word that a key may hold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Word {
    /// As written in the file.
    pub word: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

/// A figure's dimension and ranges.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Figure {
    /// Which units it may carry.
    pub dimension: Dimension,
    /// Outside this range it is refused.
    pub accepted: Range,
    /// Outside this range it is asked about: common practice, no source.
    pub usual: Option<Range>,
}

/// What happens when a key is left out or "not known".
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "need")]
pub enum Need {
    /// It must be given.
    Required,
    /// One key of its group must be given: see [`super::Group`].
    OneOf {
        /// Name of the group.
        group: &'static str,
    },
    /// Nothing stands in for it.
    Optional {
        /// What giving it would buy.
        buys: &'static str,
    },
    /// A stated default stands in and is listed as an assumption.
    Default {
        /// The default, written as it would be in the file.
        value: &'static str,
        /// Why this default.
        why: &'static str,
        /// What giving the figure would buy.
        buys: &'static str,
    },
    /// A default worked out from other figures stands in and is listed as an assumption.
    Worked {
        /// The rule.
        rule: &'static str,
        /// What giving the figure would buy.
        buys: &'static str,
    },
    /// Leaving it out says this; nothing is assumed by it.
    Means {
        /// The value, written as it would be in the file.
        value: &'static str,
    },
}

/// When a key applies at all.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "when")]
pub enum When {
    /// Always.
    Always,
    /// When another key of the section holds one of these words.
    Says {
        /// The other key.
        key: &'static str,
        /// Its words.
        words: &'static [&'static str],
    },
    /// When another key of the section is given.
    Given {
        /// The other key.
        key: &'static str,
    },
}

/// One key.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Key {
    /// Name as written in the file.
    pub name: &'static str,
    /// What it holds.
    pub holds: Kind,
    /// What happens without it.
    pub need: Need,
    /// When it applies.
    pub when: When,
    /// Where it is measured from and its sign; empty when there is nothing to say.
    pub from: &'static str,
    /// What it is, one sentence.
    pub doc: &'static str,
    /// An example value, as written after the equals sign.
    pub example: &'static str,
}

impl Key {
    const fn new(name: &'static str, holds: Kind) -> Self {
        Self {
            name,
            holds,
            need: Need::Optional { buys: "" },
            when: When::Always,
            from: "",
            doc: "",
            example: "",
        }
    }

    pub(super) const fn figure(name: &'static str, dimension: Dimension, accepted: Range) -> Self {
        Self::new(name, Kind::Figure(Figure { dimension, accepted, usual: None }))
    }

    pub(super) const fn limit(name: &'static str, dimension: Dimension, accepted: Range) -> Self {
        Self::new(name, Kind::Limit(Figure { dimension, accepted, usual: None }))
    }

    pub(super) const fn length(name: &'static str, accepted: Range) -> Self {
        Self::figure(name, Dimension::Length, accepted)
    }

    pub(super) const fn angle(name: &'static str, accepted: Range) -> Self {
        Self::figure(name, Dimension::Angle, accepted)
    }

    pub(super) const fn text(name: &'static str, longest: usize) -> Self {
        Self::new(name, Kind::Text { longest })
    }

    pub(super) const fn count(name: &'static str, least: u32, most: u32) -> Self {
        Self::new(name, Kind::Count { least, most })
    }

    pub(super) const fn flag(name: &'static str) -> Self {
        Self::new(name, Kind::Flag)
    }

    pub(super) const fn word(name: &'static str, words: &'static [Word]) -> Self {
        Self::new(name, Kind::Word { words })
    }

    pub(super) const fn names(name: &'static str) -> Self {
        Self::new(name, Kind::Names)
    }

    pub(super) const fn points(name: &'static str) -> Self {
        Self::new(name, Kind::Points)
    }

    pub(super) const fn usual(mut self, usual: Range) -> Self {
        if let Kind::Figure(mut figure) = self.holds {
            figure.usual = Some(usual);
            self.holds = Kind::Figure(figure);
        }
        self
    }

    pub(super) const fn needed(mut self) -> Self {
        self.need = Need::Required;
        self
    }

    pub(super) const fn one_of(mut self, group: &'static str) -> Self {
        self.need = Need::OneOf { group };
        self
    }

    pub(super) const fn buys(mut self, buys: &'static str) -> Self {
        self.need = Need::Optional { buys };
        self
    }

    pub(super) const fn default(
        mut self,
        value: &'static str,
        why: &'static str,
        buys: &'static str,
    ) -> Self {
        self.need = Need::Default { value, why, buys };
        self
    }

    pub(super) const fn worked(mut self, rule: &'static str, buys: &'static str) -> Self {
        self.need = Need::Worked { rule, buys };
        self
    }

    pub(super) const fn means(mut self, value: &'static str) -> Self {
        self.need = Need::Means { value };
        self
    }

    pub(super) const fn when(mut self, key: &'static str, words: &'static [&'static str]) -> Self {
        self.when = When::Says { key, words };
        self
    }

    pub(super) const fn with(mut self, key: &'static str) -> Self {
        self.when = When::Given { key };
        self
    }

    pub(super) const fn from(mut self, from: &'static str) -> Self {
        self.from = from;
        self
    }

    pub(super) const fn doc(mut self, doc: &'static str) -> Self {
        self.doc = doc;
        self
    }

    pub(super) const fn example(mut self, example: &'static str) -> Self {
        self.example = example;
        self
    }
}
