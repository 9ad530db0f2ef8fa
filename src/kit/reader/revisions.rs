//! What a column of revisions says of rows.

use rustc_hash::FxHashMap;

use super::{Reader, key::Key};
use crate::{
    Doubt,
    columns::{Layout, Meaning},
    source::Row,
    unsettling,
};

/// The column of a table, and the revision in which each item was named at a place.
#[derive(Default)]
pub(super) struct Revisions {
    column: Option<usize>,
    of_items: FxHashMap<(Key, Box<str>), Box<str>>,
}

impl Revisions {
    pub(super) fn of_table(layout: &Layout) -> Revisions {
        Revisions {
            column: layout.revision.map(usize::from),
            of_items: FxHashMap::default(),
        }
    }

    pub(super) fn are_told(&self) -> bool {
        self.column.is_some()
    }
}

impl Reader<'_> {
    /// The doubt of a row whose revision takes it back, or is another than that of the same item above: of two revisions
    /// the later holds, or the row is of another drawing.
    pub(super) fn revised(&mut self, row: &Row, layout: &Layout, item: Key) -> Option<Doubt> {
        const PLACING: [Meaning; 4] = [Meaning::Stage, Meaning::Place, Meaning::Bag, Meaning::Box];
        let revision = row.get(self.revisions.column?).trim();
        if unsettling::are_in_remark(revision) {
            return Some(Doubt::Remark(revision.into()));
        }
        let placed = PLACING.iter().map(|&of| layout.cell(row, of));
        let above = [&*self.stage, &self.bag, &self.carton];
        let place: Vec<&str> = placed.chain(above).collect();
        let before = (self.revisions.of_items)
            .entry((item, place.join("\u{1f}").into()))
            .or_insert_with(|| revision.into());
        if **before == *revision {
            return None;
        }
        let named = |revision: &str| match revision {
            "" => "none".to_owned(),
            revision => format!("\"{revision}\""),
        };
        let doubt = format!(
            "revision {} here, and {} of the same item above: which of them holds?",
            named(revision),
            named(before)
        );
        Some(Doubt::OrElse {
            pieces: 0,
            said: doubt.into(),
        })
    }
}
