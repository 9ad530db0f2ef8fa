//! What the sentences before one have counted: the things of the stage, and the bolts of the last joint.

use super::{
    Call, Naming, multiplier::Multiplier, named::Named, there::are_small, things::Things,
    wording::stem,
};
use crate::hardware::{Diameter, Kind};

/// What stands before a sentence in its stage.
#[derive(Debug, Clone, Default)]
pub struct Before {
    things: Vec<Counted>,
    /// The bolts of the joint that the sentence goes on with.
    pub bolts: Option<Bolts>,
}

/// Things that a sentence counts: `the four braces`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// In lower case, without the s of the plural.
    noun: String,
    pub(super) number: u32,
    pub(super) words: String,
}

/// The bolts, screws, rods or anchors of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bolts {
    pub kind: Kind,
    /// At all places.
    pub pieces: u32,
    pub diameter: Option<Diameter>,
    /// Whether their count is not in doubt.
    pub sure: bool,
    /// The line on which their sentence starts.
    pub row: u32,
}

impl Bolts {
    /// True where a noun stands for each of them: `every bolt`, `on every one`, `under each head`.
    pub(super) fn are_called(&self, noun: &str) -> bool {
        calls(noun).is_some_and(|kinds| kinds.contains(&self.kind))
    }
}

/// The kinds of long pieces that a noun stands for.
pub(super) fn calls(noun: &str) -> Option<&'static [Kind]> {
    Some(match stem(noun) {
        "bolt" | "anchor" => &[Kind::Bolt, Kind::Anchor],
        "screw" | "lag" => &[Kind::Screw],
        "rod" | "stud" => &[Kind::Rod],
        "one" | "head" => &[Kind::Bolt, Kind::Screw, Kind::Rod, Kind::Anchor],
        _ => return None,
    })
}

impl Counted {
    /// Of a count and its words, whose last is the thing. `None` for one thing, and for words that do not
    /// end in one.
    pub(super) fn of(words: &str, number: u32) -> Option<Counted> {
        let noun = words.trim().rsplit(' ').next()?;
        let plain = noun.len() > 2 && noun.bytes().all(|b| b.is_ascii_alphabetic());
        Counted::named(noun, number, words).filter(|_| plain)
    }

    /// Of things told apart by their names: `posts 3 and 4`.
    pub(super) fn named(noun: &str, number: u32, words: &str) -> Option<Counted> {
        (number > 1).then(|| Counted {
            noun: stem(noun).to_ascii_lowercase(),
            number,
            words: words.trim().to_owned(),
        })
    }
}

impl Before {
    /// Keeps what a sentence has counted.
    pub fn note(&mut self, counted: &[Counted]) {
        self.things.extend_from_slice(counted);
    }

    /// How many of a thing the sentences have counted; `None` where they differ.
    pub(super) fn counted(&self, noun: &str) -> Option<&Counted> {
        let noun = stem(noun);
        let mut all = self
            .things
            .iter()
            .rev()
            .filter(|counted| counted.noun.eq_ignore_ascii_case(noun));
        let last = all.next()?;
        all.all(|other| other.number == last.number).then_some(last)
    }
}

/// The things that a sentence counts by number or by name.
pub(super) fn counted(things: &[Things], named: Option<&Named>, text: &str) -> Vec<Counted> {
    let things = things
        .iter()
        .filter_map(|things| Counted::of(&things.words, things.number));
    let named = named
        .filter(|named| !named.noun.is_empty())
        .and_then(|named| Counted::named(&named.noun, named.number, &text[named.at.clone()]));
    things.chain(named).collect()
}

/// True where what a sentence calls for goes on the bolts of the joint before, by its kind and size.
pub(super) fn go_on(calls: &[Call], bolts: Bolts) -> bool {
    let fits = |call: &Call| {
        let size = call.callout.item.diameter;
        call.naming != Naming::New || size.is_none() || size == bolts.diameter
    };
    are_small(calls) && calls.iter().all(fits)
}

/// Takes the numbers of places that a sentence leaves open from what stands before it. True where its
/// items go on each of the bolts before.
pub(super) fn settle_by(
    before: &Before,
    bolts: Option<Bolts>,
    multipliers: &mut [Multiplier],
) -> bool {
    let mut on_bolts = false;
    for i in 0..multipliers.len() {
        let noun = stem(&multipliers[i].noun).to_owned();
        let stated = |m: &Multiplier| m.times.is_some() && stem(&m.noun) == noun;
        if !multipliers.iter().any(stated) {
            on_bolts |= multipliers[i].settle_by(before, bolts);
        }
    }
    on_bolts
}

/// `Add one nut to each.`: each bolt of the joint before.
pub(super) fn each_of(bolts: Bolts, at: usize) -> Multiplier {
    let open = format!("\"each\": the bolts of line {} are in doubt", bolts.row);
    Multiplier {
        at,
        words: "each".into(),
        noun: "bolt".into(),
        times: Some(bolts.pieces),
        open: false,
        taken: (!bolts.sure).then_some(open),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_counted_before() {
        let counted = |words, number| Counted::of(words, number).expect("a thing");
        let mut before = Before::default();
        before.note(&[counted("the four braces", 4), counted("six posts", 6)]);
        assert_eq!(before.counted("brace").map(|c| c.number), Some(4));
        assert_eq!(before.counted("posts").map(|c| c.number), Some(6));
        assert_eq!(before.counted("rail"), None);
        before.note(&[counted("two posts", 2)]);
        assert_eq!(before.counted("post"), None);
        assert_eq!(Counted::of("posts 3 and 4", 2), None);
    }
}
