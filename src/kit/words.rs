//! The words that a line was read from.

use crate::{
    columns::Meaning,
    notation::{ItemCells, Known, Notation, Readings, readings_of},
};

/// The words that a row's lines were read from.
#[derive(Debug, Clone)]
pub struct Words {
    /// Index into [`List::sheets`](super::List::sheets).
    pub sheet: u16,
    pub row: u32,
    /// What says what the item is: a description, then the cells of [`Words::ITEM`].
    pub item: [Box<str>; 8],
    /// What is said beside: the other filled cells of the row, or what the rest of the sentence says.
    pub beside: Vec<(Meaning, Box<str>)>,
    pub in_prose: bool,
    /// The sentence, of a guide's prose.
    pub sentence: Box<str>,
    pub notation: Notation,
}

impl Words {
    /// What stands in the cells of an item after its description.
    pub const ITEM: [Meaning; 7] = [
        Meaning::Size,
        Meaning::Diameter,
        Meaning::Length,
        Meaning::Thread,
        Meaning::Grade,
        Meaning::Finish,
        Meaning::PartNumber,
    ];

    /// True where the count stands beside.
    pub fn counted_beside(&self) -> bool {
        let counts = [
            Meaning::Quantity,
            Meaning::Total,
            Meaning::Packs,
            Meaning::Shipped,
            Meaning::Good,
        ];
        self.beside.iter().any(|(what, _)| counts.contains(what))
    }

    /// Every way to read them, among sizes that are known.
    pub fn readings(&self, known: &Known) -> Readings {
        readings_of(&item_cells(&self.item), self.notation, known)
    }
}

/// The cells of [`Words::item`].
pub fn item_cells(words: &[Box<str>; 8]) -> ItemCells<'_> {
    let [
        description,
        size,
        diameter,
        length,
        thread,
        grade,
        finish,
        part_number,
    ] = words;
    ItemCells {
        description,
        size,
        diameter,
        length,
        thread,
        grade,
        finish,
        part_number,
    }
}
