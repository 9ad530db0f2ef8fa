//! Hardware named for pieces, told from hardware that is there.

use rustc_hash::FxHashMap;

use super::{Asked, Guide};
use crate::{
    Doubt,
    hardware::{Diameter, Item, Kind, Length},
    kit::Usage,
    notation::{Call, Callout, Naming},
};

/// What a call is to the list.
pub(super) enum Part {
    /// Hardware that is there: makes no line.
    Mention,
    /// Makes a line; with a doubt, one for reference.
    Wanted(Option<Doubt>),
}

/// Kind, diameter and length.
type Key = (Option<Kind>, Option<Diameter>, Option<Length>);

/// The lines that a stage asks for, by kind and size, so that a mention looks at its own size alone.
#[derive(Debug, Default)]
pub(super) struct BySize {
    lines: FxHashMap<Key, Vec<usize>>,
    taken: usize,
}

impl BySize {
    fn key(item: &Item) -> Key {
        (item.kind, item.diameter, item.length)
    }

    /// Takes in what was asked for since.
    pub fn take_in(&mut self, asked: &[Asked]) {
        for (at, one) in asked.iter().enumerate().skip(self.taken) {
            if let Ok(callout) = &one.callout {
                let lines = self.lines.entry(BySize::key(&callout.item)).or_default();
                lines.push(at);
            }
        }
        self.taken = asked.len();
    }
}

impl Guide {
    /// What was asked for in this stage that a mention fits.
    fn fitting<'a>(
        &'a self,
        mention: &'a Callout,
    ) -> impl Iterator<Item = (&'a Asked, &'a Callout)> {
        let item = &mention.item;
        let of_size = || self.by_size.lines.get(&BySize::key(item));
        let (some, all) = match item.diameter.is_some() && item.length.is_some() {
            true => (of_size().map_or(&[][..], Vec::as_slice), &[][..]),
            false => (&[][..], &*self.asked),
        };
        let some = some.iter().map(|&at| &self.asked[at]);
        let all = some.chain(all);
        let all = all.filter_map(|asked| Some((asked, asked.callout.as_ref().ok()?)));
        all.filter(|(_, known)| fits(mention, known))
    }

    /// Whether a call asks for pieces or mentions what is there. Pieces that are for reference, since
    /// they may be wanted or not, carry the doubt. `also`: what the sentence asks for before it.
    pub(super) fn role(
        &self,
        call: &Call,
        usage: Option<Usage>,
        also: &[(Call, Option<Doubt>)],
    ) -> Part {
        let item = &call.callout.item;
        let vague = call.callout.quantity.is_none() && item.diameter.is_none();
        let doubt = |text: &str| Part::Wanted(Some(Doubt::Said(text.into())));
        let here = || also.iter().map(|(call, _)| &call.callout);
        let before = || {
            self.asked
                .iter()
                .filter_map(|asked| asked.callout.as_ref().ok())
        };
        let named = || {
            before()
                .chain(here())
                .any(|known| known.item.kind == item.kind)
        };
        let called_for = || {
            here().any(|known| fits(&call.callout, known))
                || self.is_called_for(&call.callout, usage)
        };
        match call.naming {
            Naming::New => Part::Wanted(None),
            Naming::Not if vague => Part::Mention,
            Naming::Not => doubt("said to be left out: makes no demand"),
            // `over the 3/4 bolts`: a place.
            Naming::Known if call.callout.quantity.is_none() || item.diameter.is_none() => {
                Part::Mention
            }
            Naming::Known if called_for() => Part::Mention,
            Naming::Put if vague && (named() || usage == Some(Usage::CarriedOver)) => Part::Mention,
            Naming::Put | Naming::Driven if !vague && called_for() => {
                doubt("called for before in this stage: taken as those, and not as more")
            }
            Naming::Some if usage.is_none() && self.has_as_many(&call.callout) => {
                doubt("called for before in this stage: taken as so many of those, and not as more")
            }
            _ => Part::Wanted(None),
        }
    }

    /// True where what is named as known was asked for in this stage, as far as it is stated; or
    /// where neither count nor size makes it more than a mention.
    pub(super) fn is_called_for(&self, callout: &Callout, usage: Option<Usage>) -> bool {
        let as_many = |asked: &Asked, known: &Callout, pieces: u64| {
            let each = known.quantity.map(|k| k.pieces);
            let in_all = each.map(|p| p * u64::from(asked.places));
            each == Some(pieces) || in_all == Some(pieces)
        };
        match callout.quantity {
            None => callout.item.diameter.is_none() || self.fitting(callout).next().is_some(),
            Some(q) => {
                let mut fitting = self.fitting(callout);
                usage.is_none() && fitting.any(|(asked, known)| as_many(asked, known, q.pieces))
            }
        }
    }

    /// True where an item that is stated in full is named for the first time in its stage, though as
    /// known: `drive in the four M8 x 35 screws`, `two of the M10 x 30 bolts`. Whether the list has it is
    /// asked of its lines.
    pub(super) fn is_first(&self, naming: Naming, callout: &Callout) -> bool {
        let item = &callout.item;
        let sized = item.diameter.is_some() && (item.length.is_some() || naming == Naming::Driven);
        let full = sized && callout.quantity.is_some();
        let named = matches!(naming, Naming::Driven | Naming::Some);
        named && full && self.fitting(callout).next().is_none()
    }

    /// True where at least so many of what a callout names were asked for in this stage.
    pub(super) fn has_as_many(&self, callout: &Callout) -> bool {
        let wanted = callout.quantity.map_or(0, |q| q.pieces);
        self.fitting(callout).any(|(asked, known)| {
            let pieces = known.quantity.map_or(0, |k| k.pieces);
            pieces.saturating_mul(u64::from(asked.places)) >= wanted
        })
    }
}

/// True where a mention fits an item, as far as both state it.
fn fits(mention: &Callout, item: &Callout) -> bool {
    let (a, b) = (&mention.item, &item.item);
    a.kind == b.kind
        && (a.diameter.is_none() || a.diameter == b.diameter)
        && (a.length.is_none() || a.length == b.length)
        && (a.style.is_none() || b.style.is_none() || a.style == b.style)
}
