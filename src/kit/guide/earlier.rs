//! What stages before have called for and a sentence names as known: `Secure the lid with the four 3/8 x 1 bolts.`

use rustc_hash::FxHashMap;

use super::{
    Asked,
    listed::{Key, fits, key, pieces, wanted},
    usage::removed_before,
};
use crate::{Doubt, hardware::Item, kit::Usage};

/// What a stage before has called for.
pub struct Earlier<'a> {
    pub row: u32,
    pub item: &'a Item,
    /// At all places.
    pub pieces: Option<u64>,
    pub usage: Option<Usage>,
}

pub(super) fn named_as_known() -> Doubt {
    Doubt::Said("named as known, and not called for before in this stage: taken as new".into())
}

/// What a sentence says of pieces that its stage has not called for, where that is asked.
fn asks() -> [Doubt; 2] {
    [named_as_known(), removed_before()]
}

/// True for what its sentence names as known, and which its stage has not called for.
pub fn is_known(asked: &Asked) -> bool {
    asked.known || asks().iter().any(|doubt| asked.doubts.contains(doubt))
}

/// Asks of what is named as known and was called for in a stage before, which may be the same pieces. Of what was taken
/// off there and kept nothing is to be asked: it is what serves here.
pub fn ask_of_earlier(earlier: &[Earlier], asked: &mut [Asked]) {
    let mut of_key: FxHashMap<Key, Vec<&Earlier>> = FxHashMap::default();
    for one in earlier {
        of_key.entry(key(one.item)).or_default().push(one);
    }
    for one in asked.iter_mut() {
        let (true, Ok(callout), Some(pieces)) = (is_known(one), &one.callout, pieces(one)) else {
            continue;
        };
        let (item, is_wanted) = (&callout.item, wanted(one).is_some());
        let all = of_key.get(&key(item)).map_or(&[][..], Vec::as_slice);
        let of_it = || all.iter().filter(|there| fits(there.item, item));
        let kept = |there: &&&Earlier| {
            there.usage == Some(Usage::Returned) && there.pieces >= Some(pieces)
        };
        let asked = |there: &&&Earlier| {
            there.usage.is_none_or(|usage| usage == Usage::New) && there.pieces == Some(pieces)
        };
        let (kept, same) = (of_it().find(kept), of_it().find(asked));
        let row = same.map(|there| there.row);
        if kept.is_some() {
            one.usage = one
                .usage
                .filter(|_| !one.doubts.contains(&removed_before()));
            one.doubts.retain(|doubt| !asks().contains(doubt));
        } else if let Some(row) = row.filter(|_| one.known && is_wanted) {
            let said =
                format!("line {row} calls for as many: may be the same pieces; taken as more");
            one.doubts.push(Doubt::OrElse {
                pieces: 0,
                said: said.into(),
            });
        }
    }
}
