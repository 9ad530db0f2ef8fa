//! Titles that name hardware without a size, over lines that are sizes and counts alone: `Hex bolts:` over
//! `M8 x 25 - 16` (common practice, no source).

use super::Reader;
use crate::{
    columns::furniture,
    notation::{Callout, Notation, describe},
    source::Row,
};

/// The hardware of a text that names one without size and count.
fn kind(text: &str, notation: Notation) -> Option<&str> {
    // A grade is the one figure in such a title.
    let closed = text.trim_end().ends_with(':');
    let text = furniture::unmark(text);
    if !closed && text.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let names = |callout: &Callout| {
        let item = &callout.item;
        callout.is_hardware()
            && item.kind.is_some()
            && item.diameter.is_none()
            && item.length.is_none()
            && callout.quantity.is_none()
    };
    match describe(text, notation) {
        Ok(all) if matches!(&all[..], [only] if names(only)) => Some(text),
        _ => None,
    }
}

/// A size of which nothing says what it is of.
fn bare_size(text: &str, notation: Notation) -> Option<Callout> {
    let [only] = <[Callout; 1]>::try_from(describe(text, notation).ok()?).ok()?;
    (only.item.kind.is_none() && only.item.diameter.is_some()).then_some(only)
}

impl Reader<'_> {
    /// True where a row may be such a title.
    pub(super) fn may_be_kind(&self, row: &Row) -> bool {
        let mut filled = row.cells().filter(|(text, _)| !text.is_empty());
        matches!((filled.next(), filled.next()), (Some((text, _)), None) if kind(text, self.notation).is_some())
    }

    /// Takes a held row for such a title, where the next is a bare size.
    pub(super) fn take_kind(&mut self, held: &Row, next: &Row) -> bool {
        let mut text = String::new();
        held.join_into(&mut text);
        if !self.may_be_kind(held) {
            return false;
        }
        let Some(kind) = kind(&text, self.notation) else {
            return false;
        };
        let mut below = String::new();
        next.join_into(&mut below);
        let is_title = under(kind, &below, self.notation).is_some();
        if is_title {
            self.kind_above = kind.to_owned();
        }
        is_title
    }
}

/// A bare size with the title above it: what it says of size and count stays what it was.
pub(super) fn under(kind: &str, text: &str, notation: Notation) -> Option<String> {
    if kind.is_empty() {
        return None;
    }
    let body = furniture::without_bullet(text);
    let bare = bare_size(&body, notation)?;
    let same = |whole: &String| {
        describe(whole, notation).is_ok_and(|all| {
            matches!(&all[..], [only] if only.quantity == bare.quantity
                && only.item.kind.is_some()
                && only.item.diameter == bare.item.diameter
                && only.item.length == bare.item.length)
        })
    };
    let ways = [format!("{kind} {body}"), format!("{body} {kind}")];
    ways.into_iter().find(same)
}
