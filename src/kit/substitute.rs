//! Rules on what may be used in place of what: in the job file, or a row each in a table.
//!
//! ```
//! let job = tallybin::kit::Job::parse(r#"
//!     [[substitutes]]
//!     for = "5/8 x 5-1/2 hex bolt"       # a size, a family (1/2 hex nut), an id or a part number
//!     longer_by = "1/2"                  # at most
//!     stages = ["Posts"]
//!     approved_by = "J. Marl, Tarrowby Bridgeworks"
//!
//!     [[substitutes]]
//!     for = "USS flat washer"
//!     use = "SAE flat washer"
//!     approved_by = "J. Marl"
//! "#, "job.toml".as_ref()).unwrap();
//! assert_eq!(job.substitutes[0].row, 2);
//! assert_eq!(job.substitutes[1].instead.as_deref(), Some("SAE flat washer"));
//! ```

use std::{fmt, path::Path};

use serde::{
    Deserialize, Deserializer,
    de::{self, SeqAccess, Visitor},
};

use super::{
    input::Input,
    table::{self, Headings},
};
use crate::{
    error::{At, Error, Result},
    hardware::Length,
    names::names,
    notation::length,
    source::Row,
    words::fold,
};

/// What may be used in place of what.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SubstituteRule {
    /// Where it stands: the file as shown, and the row from 1.
    pub file: String,
    pub row: u32,
    /// The item or family asked for: a description, an id or a part number.
    pub asked: String,
    /// What may be used: as `asked`; a description says only what differs. `None`: the same, but for
    /// the limits.
    pub instead: Option<String>,
    /// At most so much longer or shorter; `None`: not at all.
    pub longer_by: Option<Length>,
    pub shorter_by: Option<Length>,
    /// At most so many grades stronger.
    pub grades_up: u32,
    /// What the joint clamps, from under the head to under the nut: the thread must reach it.
    pub grip: Option<Length>,
    /// Stages that it holds for; empty: all.
    pub stages: Vec<String>,
    pub approved_by: String,
    /// The approver holds the piece for delivered: it is no longer claimed.
    pub closes_claim: bool,
}

names! {
    /// A column of a table of rules; a key of the job file, with underscores.
    pub enum Key {
        Asked = "for",
        Instead = "use",
        LongerBy = "longer by",
        ShorterBy = "shorter by",
        GradesUp = "grades up",
        Grip = "grip",
        Stages = "stages",
        ApprovedBy = "approved by",
        ClosesClaim = "closes claim",
    }
}

impl SubstituteRule {
    /// Where the rule stands: `rules.csv, line 4`.
    pub fn address(&self) -> String {
        self.at().to_string()
    }

    pub fn at(&self) -> At {
        At {
            row: Some(self.row),
            ..At::file(&self.file)
        }
    }

    /// The error about this rule.
    pub fn error(&self, found: impl Into<String>, todo: impl Into<String>) -> Error {
        Error::input(self.at(), found, todo)
    }

    /// True where the rule says how far the piece used may differ, or where.
    pub fn is_limited(&self) -> bool {
        self.longer_by.is_some()
            || self.shorter_by.is_some()
            || self.grades_up > 0
            || self.grip.is_some()
            || !self.stages.is_empty()
    }

    /// Takes what stands under a key.
    fn set(&mut self, key: Key, text: &str) -> Result<()> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(());
        }
        let refuse = |what: &str, todo: &str| {
            let found = format!("\"{text}\" under \"{key}\" is no {what}");
            Err(self.error(found, todo))
        };
        match key {
            Key::Asked => self.asked = text.to_owned(),
            Key::Instead => self.instead = Some(text.to_owned()),
            Key::LongerBy | Key::ShorterBy | Key::Grip => match length(text) {
                Some(length) if key == Key::LongerBy => self.longer_by = Some(length),
                Some(length) if key == Key::ShorterBy => self.shorter_by = Some(length),
                Some(length) => self.grip = Some(length),
                None => return refuse("length", "write 1/4, 1/4 in or 6 mm"),
            },
            Key::GradesUp => match text.parse() {
                Ok(steps) => self.grades_up = steps,
                Err(_) => return refuse("number of grades", "write 1 for the next grade up"),
            },
            Key::Stages => {
                let stages = text.split(';').map(|stage| stage.trim().to_owned());
                self.stages.extend(stages.filter(|stage| !stage.is_empty()));
            }
            Key::ApprovedBy => self.approved_by = text.to_owned(),
            Key::ClosesClaim => match fold(text).as_str() {
                "yes" | "y" | "true" | "x" | "1" => self.closes_claim = true,
                "no" | "n" | "false" | "0" => self.closes_claim = false,
                _ => return refuse("yes or no", "write yes or no"),
            },
        }
        Ok(())
    }

    /// The rule with all its keys.
    ///
    /// # Errors
    /// A value that is none; a rule without what is asked for, what may be used, or who approved it.
    fn of<'a>(
        file: &str,
        row: u32,
        keys: impl IntoIterator<Item = (Key, &'a str)>,
    ) -> Result<SubstituteRule> {
        let mut rule = SubstituteRule {
            file: file.to_owned(),
            row,
            ..SubstituteRule::default()
        };
        for (key, text) in keys {
            rule.set(key, text)?;
        }
        if rule.asked.is_empty() {
            return Err(rule.error(
                "the rule does not say what it stands in for",
                "name the item or the family under \"for\"",
            ));
        }
        let differs = rule.longer_by.is_some() || rule.shorter_by.is_some() || rule.grades_up > 0;
        if rule.instead.is_none() && !differs {
            return Err(rule.error(
                format!(
                    "the rule does not say what may be used for \"{}\"",
                    rule.asked
                ),
                "name it under \"use\", or give a limit: longer by, shorter by, grades up",
            ));
        }
        if rule.approved_by.is_empty() {
            return Err(rule.error(
                format!("nobody has approved the substitute for \"{}\"", rule.asked),
                "say who did (approved_by, or a table's column \"approved by\"); without that it is only offered",
            ));
        }
        Ok(rule)
    }
}

const HEADINGS: Headings<Key> = Headings {
    what: "a table of substitutes",
    needed: [Key::Asked, Key::ApprovedBy],
    names: Key::NAMES,
};

/// True for a file that has the headings of a table of rules.
pub fn is_table(input: &Input) -> bool {
    table::is_headed(input, &HEADINGS)
}

/// Reads a table of rules, a rule a row.
///
/// # Errors
/// As [`table::read`]; a bad rule.
pub fn read(input: &Input) -> Result<Vec<SubstituteRule>> {
    let mut rules = Vec::new();
    table::read(input, &HEADINGS, |row, columns| {
        rules.push(rule_of(&input.shown, row, columns)?);
        Ok(())
    })?;
    Ok(rules)
}

fn rule_of(file: &str, row: &Row, columns: &[Option<Key>]) -> Result<SubstituteRule> {
    let cells = columns.iter().enumerate();
    let keys = cells.filter_map(|(at, key)| Some(((*key)?, row.get(at))));
    SubstituteRule::of(file, row.number, keys)
}

/// An entry under `substitutes` of the job file: a rule, or the path of a table of them.
pub enum RuleEntry {
    File(String),
    Rule(RuleKeys),
}

/// A rule as the job file writes it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RuleKeys {
    r#for: Plain,
    r#use: Option<Plain>,
    longer_by: Option<Plain>,
    shorter_by: Option<Plain>,
    grades_up: Option<Plain>,
    grip: Option<Plain>,
    stages: Option<Plain>,
    approved_by: Option<Plain>,
    closes_claim: Option<Plain>,
}

impl RuleKeys {
    /// The rule, which stands in a row of a file.
    ///
    /// # Errors
    /// A value that is none; a rule without what is asked for, what may be used, or who approved it.
    pub fn rule(&self, file: &Path, row: u32) -> Result<SubstituteRule> {
        let keys = [
            (Key::Asked, Some(&self.r#for)),
            (Key::Instead, self.r#use.as_ref()),
            (Key::LongerBy, self.longer_by.as_ref()),
            (Key::ShorterBy, self.shorter_by.as_ref()),
            (Key::GradesUp, self.grades_up.as_ref()),
            (Key::Grip, self.grip.as_ref()),
            (Key::Stages, self.stages.as_ref()),
            (Key::ApprovedBy, self.approved_by.as_ref()),
            (Key::ClosesClaim, self.closes_claim.as_ref()),
        ];
        let keys = keys.iter().filter_map(|(key, text)| Some((*key, (*text)?)));
        let keys = keys.map(|(key, text)| (key, text.0.as_str()));
        let file = file.to_string_lossy().replace('\\', "/");
        SubstituteRule::of(&file, row, keys)
    }
}

/// A value as it would stand in a cell: a list is joined by semicolons.
struct Plain(String);

impl<'de> Deserialize<'de> for Plain {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        struct AnyValue;
        impl<'de> Visitor<'de> for AnyValue {
            type Value = Plain;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a text, a number, true or false, or a list of texts")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<Plain, E> {
                Ok(Plain(text.to_owned()))
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> std::result::Result<Plain, E> {
                Ok(Plain(number.to_string()))
            }
            fn visit_bool<E: de::Error>(self, yes: bool) -> std::result::Result<Plain, E> {
                Ok(Plain(yes.to_string()))
            }
            fn visit_seq<A: SeqAccess<'de>>(
                self,
                mut list: A,
            ) -> std::result::Result<Plain, A::Error> {
                let mut texts: Vec<String> = Vec::new();
                while let Some(text) = list.next_element()? {
                    texts.push(text);
                }
                Ok(Plain(texts.join(";")))
            }
        }
        d.deserialize_any(AnyValue)
    }
}

impl<'de> Deserialize<'de> for RuleEntry {
    fn deserialize<D: Deserializer<'de>>(d: D) -> std::result::Result<Self, D::Error> {
        struct PathOrRule;
        impl<'de> Visitor<'de> for PathOrRule {
            type Value = RuleEntry;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the path of a table of rules, or a rule")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> std::result::Result<RuleEntry, E> {
                Ok(RuleEntry::File(text.to_owned()))
            }
            fn visit_map<A: de::MapAccess<'de>>(
                self,
                map: A,
            ) -> std::result::Result<RuleEntry, A::Error> {
                RuleKeys::deserialize(de::value::MapAccessDeserializer::new(map))
                    .map(RuleEntry::Rule)
            }
        }
        d.deserialize_any(PathOrRule)
    }
}
