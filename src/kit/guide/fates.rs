//! What a text says to become of each kind of the pieces that it names: `Keep the bolts, discard the nuts.` Its words
//! are common practice, no source.

use super::{prose::VERBS, tightened::stem};
use crate::{hardware::Kind, kit::Usage};

/// Kinds of pieces that are taken off and on again.
const KINDS: [Kind; 7] = [
    Kind::Bolt,
    Kind::Screw,
    Kind::Nut,
    Kind::Washer,
    Kind::Pin,
    Kind::Rod,
    Kind::Anchor,
];

/// Verbs that say it of what stands behind them: `keep the bolts`.
const KEEP: &[&str] = &["keep", "retain", "save", "reuse", "re-use"];
const THROW: &[&str] = &["discard", "throw", "scrap", "bin", "recycle", "ditch"];

/// Forms that say it of what stands in front: `the bolts are kept`.
const KEPT: &[&str] = &["kept", "retained", "saved", "reused", "re-used"];
const THROWN: &[&str] = &["discarded", "thrown", "scrapped", "binned", "recycled"];

/// What becomes of each kind, where a text says one thing of some and another of others; nothing where it says one of
/// all.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Fates(Vec<(Kind, Usage)>);

impl Fates {
    pub fn of(text: &str) -> Fates {
        let mut all: Vec<(Kind, Usage)> = Vec::new();
        // Kinds that no verb stands in front of, and where those begin that the last clause names.
        let mut named: Vec<Kind> = Vec::new();
        let mut clause = 0;
        let mut verb = None;
        for word in text.split_whitespace() {
            let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
            let lower = bare.to_lowercase();
            let is = |known: &[&str]| known.contains(&&*lower);
            let kind = KINDS.into_iter().find(|kind| kind.as_str() == stem(bare));
            let behind = match () {
                () if is(KEPT) => Some(Usage::Returned),
                () if is(THROWN) => Some(Usage::Discarded),
                () => None,
            };
            if let Some(kind) = kind {
                match verb {
                    Some(usage) => all.push((kind, usage)),
                    None => named.push(kind),
                }
            } else if let Some(usage) = behind {
                all[clause..].iter_mut().for_each(|(_, of)| *of = usage);
                all.extend(named.drain(..).map(|kind| (kind, usage)));
            } else if is(KEEP) {
                verb = Some(Usage::Returned);
            } else if is(THROW) {
                verb = Some(Usage::Discarded);
            } else if is(VERBS) {
                verb = None;
            }
            if word.ends_with([';', '.', ':']) {
                verb = None;
            }
            if word.ends_with([',', ';', '.', ':']) || is(&["and", "but"]) {
                clause = all.len();
            }
            if word.ends_with([',', ';', '.', ':']) {
                named.clear();
            }
        }
        let differ = all.windows(2).any(|pair| pair[0].1 != pair[1].1);
        all.retain(|_| differ);
        Fates(all)
    }

    pub fn are_told(&self) -> bool {
        !self.0.is_empty()
    }

    /// That of a kind; none where it is not said, or said in two ways.
    pub fn of_kind(&self, kind: Option<Kind>) -> Option<Usage> {
        let mut said = self.0.iter().filter(|(of, _)| Some(*of) == kind);
        let (_, first) = said.next()?;
        said.all(|(_, usage)| usage == first).then_some(*first)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_becomes_of_each_kind() {
        #[track_caller]
        fn case(text: &str, expected: &[(Kind, Usage)]) {
            assert_eq!(Fates::of(text).0, expected, "{text}");
        }
        let (bolt, nut) = (Kind::Bolt, Kind::Nut);
        let (kept, thrown) = (Usage::Returned, Usage::Discarded);
        let both = [(bolt, kept), (nut, thrown)];
        case("Keep the bolts, discard the nuts.", &both);
        case("Keep the bolts and throw the nuts away.", &both);
        case("Keep the bolts; the nuts are thrown away.", &both);
        case("Keep the bolts, the nuts are thrown away.", &both);
        case("The bolts are kept and the nuts thrown away.", &both);
        case(
            "Remove four M8 x 50 bolts and nuts; keep the bolts and scrap the nuts.",
            &both,
        );
        case(
            "Discard the nuts and washers but retain the bolts.",
            &[(nut, thrown), (Kind::Washer, thrown), (bolt, kept)],
        );
        case("Keep the bolts and nuts.", &[]);
        case("Keep the bolts and fit the nuts.", &[]);
        case("Remove the bolts and keep them.", &[]);
        case("Throw them away.", &[]);
        let twice = Fates::of("Keep two bolts and discard the other bolts.");
        assert!(twice.are_told());
        assert_eq!(twice.of_kind(Some(bolt)), None);
    }
}
