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

/// What stands for the kinds that are not named.
const REST: &[&str] = &["rest", "others", "remainder", "remaining"];

/// What becomes of each kind that a text names so; the last is of the rest, as far as that is said.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Fates(Vec<(Kind, Usage)>, Option<Usage>);

impl Fates {
    pub fn of(text: &str) -> Fates {
        let mut all: Vec<(Kind, Usage)> = Vec::new();
        // Kinds that no verb stands in front of, and where those begin that the last clause names.
        let mut named: Vec<Kind> = Vec::new();
        let mut clause = 0;
        let mut verb = None;
        let mut rest = None;
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
            // `four nuts (discard)`
            let in_brackets = word.starts_with('(') && word.contains(')');
            let behind = match () {
                () if in_brackets && is(KEEP) => Some(Usage::Returned),
                () if in_brackets && is(THROW) => Some(Usage::Discarded),
                () => behind,
            };
            if is(REST) {
                rest = verb.or(rest);
            } else if let Some(kind) = kind {
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
        Fates(all, rest)
    }

    /// True where the text says of a kind, by naming it or others of those, what becomes of it.
    pub fn are_told(&self, kind: Option<Kind>) -> bool {
        !self.0.is_empty() && kind.is_some_and(|kind| KINDS.contains(&kind))
    }

    /// That of a kind; none where it is not said, or said in two ways.
    pub fn of_kind(&self, kind: Option<Kind>) -> Option<Usage> {
        let mut said = self.0.iter().filter(|(of, _)| Some(*of) == kind);
        let Some((_, first)) = said.next() else {
            return self.1;
        };
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
        case(
            "Remove four M8 x 50 bolts (keep) and four nuts (discard).",
            &both,
        );
        case("Keep the bolts and nuts.", &[(bolt, kept), (nut, kept)]);
        case("Keep the bolts and fit the nuts.", &[(bolt, kept)]);
        case("Remove the bolts and keep them.", &[]);
        case("Throw them away.", &[]);
        let twice = Fates::of("Keep two bolts and discard the other bolts.");
        assert!(twice.are_told(Some(bolt)));
        assert_eq!(twice.of_kind(Some(bolt)), None);
        let rest = Fates::of("Keep the bolts, discard the rest.");
        assert_eq!(rest.of_kind(Some(bolt)), Some(kept));
        assert_eq!(rest.of_kind(Some(nut)), Some(thrown));
        assert_eq!(
            Fates::of("Discard the nuts only.").of_kind(Some(bolt)),
            None
        );
    }
}
