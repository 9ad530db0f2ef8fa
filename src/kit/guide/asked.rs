//! One line that a stage's sentences ask for.

use super::{
    announced::{Announced, puts},
    prose::words,
    whereabouts::Whereabouts,
};
use crate::{Doubt, columns::Meaning, kit::Usage, notation::Callout};

/// One line that a stage asks for.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The line on which the sentence starts, and its words.
    pub row: u32,
    pub text: String,
    /// The words of it that name the item, numbers in figures.
    pub phrase: String,
    /// `Err`: no item, kept word for word, and why.
    pub callout: Result<Callout, &'static str>,
    pub usage: Option<Usage>,
    pub torque: Option<String>,
    pub place: Option<String>,
    /// As a cell gives it.
    pub option: Option<String>,
    /// The order in which the joint is tightened, in the guide's words.
    pub sequence: Option<&'static str>,
    pub places: u32,
    /// How many things its sentence tells apart by their names: `posts 1 and 2`.
    pub(super) named: Option<u32>,
    pub doubts: Vec<Doubt>,
    /// Taken off, and not said whether kept or thrown away.
    pub(super) removed: bool,
    /// Named as known (`the four bolts`) where nothing says that it is.
    pub known: bool,
    /// How its sentence names it, where that puts nothing in.
    pub(super) announced: Option<Announced>,
}

impl Asked {
    /// A sentence that is kept word for word, and why.
    pub fn aside(row: u32, text: String, why: &'static str) -> Asked {
        Asked {
            row,
            text,
            phrase: String::new(),
            callout: Err(why),
            usage: None,
            torque: None,
            place: None,
            option: None,
            sequence: None,
            places: 1,
            named: None,
            doubts: Vec::new(),
            removed: false,
            known: false,
            announced: None,
        }
    }

    /// True where its sentence puts nothing in, and names no place for it: `In the box: six bolts.`
    pub fn tells_contents(&self) -> bool {
        !puts(&words(&self.text).collect::<Vec<_>>()) && Whereabouts::of(&self.text).is_nowhere()
    }

    /// What the sentence says beside the item.
    pub fn says(&self) -> Option<Vec<(Meaning, Box<str>)>> {
        let places = (self.places != 1).then(|| self.places.to_string());
        let usage = self.usage.map(|usage| usage.to_string());
        let said = [
            (Meaning::Places, places.as_ref()),
            (Meaning::Place, self.place.as_ref()),
            (Meaning::Option, self.option.as_ref()),
            (Meaning::Use, usage.as_ref()),
            (Meaning::Torque, self.torque.as_ref()),
        ];
        let said = said.into_iter();
        Some(
            said.filter_map(|(what, text)| Some((what, text?.as_str().into())))
                .collect(),
        )
    }
}
