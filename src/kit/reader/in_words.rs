//! Counts in words, on a slip or a count: what they say is not summed.

use super::{
    super::{line::Aside, remark, role::Role},
    Entry, Reader,
    unheard::{FEW, FEW_WITH_FIGURES, is_short},
};

impl Reader<'_> {
    /// Why a line of a slip or a count is not summed: its words say that the pieces are not there, or
    /// that not all of them are sound.
    pub(super) fn in_words(&self, text: &str, entry: usize) -> Option<Aside> {
        let names_bag = || {
            let mut words = text.split(|c: char| !c.is_alphanumeric());
            words.any(|word| matches!(&*word.to_lowercase(), "bag" | "box" | "carton" | "crate"))
        };
        if let (Some(word), false) = (
            remark::taken_out(text),
            matches!(self.said[entry], Entry::Furniture),
        ) {
            return Some(Aside::InWords(format!("by its words it is {word}").into()));
        }
        let is_furniture = matches!(self.said[entry], Entry::Furniture);
        let plain = || self.begun && is_short(text, FEW);
        // `deck boards 22, one is split` is no sentence of a guide.
        let told = || {
            let figures = text.contains(|c: char| c.is_ascii_digit());
            self.list.role == Role::Counted
                && self.begun
                && figures
                && text.split_whitespace().count() <= FEW_WITH_FIGURES
        };
        let is_line = !is_furniture || names_bag() || plain() || told();
        let denied = || names_bag().then(|| remark::denied(text))?;
        let (words, why) = match self.list.role {
            Role::Shipped => (remark::not_sent(text).or_else(denied)?, "was not sent"),
            Role::Counted => (
                remark::counted_in_words(text)
                    .or_else(|| remark::not_sent(text))
                    .or_else(denied)
                    .or_else(|| remark::all_there(text).filter(|_| is_furniture))?,
                "is no plain count: write good and damaged pieces apart",
            ),
            _ => return None,
        };
        is_line.then(|| Aside::InWords(format!("by its words it {why} (\"{words}\")").into()))
    }

    /// Why a line of a count, as it is written, is not summed: it says what is wanted, or is left open.
    pub(super) fn not_counted(&self, text: &str, entry: usize) -> Option<Aside> {
        let is_line =
            self.list.role == Role::Counted && !matches!(self.said[entry], Entry::Furniture);
        let words = remark::not_counted(text).filter(|_| is_line)?;
        Some(Aside::InWords(
            format!(
                "it may not say what is there (\"{words}\"): write good and damaged pieces apart"
            )
            .into(),
        ))
    }
}
