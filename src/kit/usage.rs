//! What becomes of a line's pieces.

use crate::{names::names, words::fold};

names! {
    /// What becomes of a line's pieces.
    pub enum Usage {
        New = "new",
        /// Already fitted at an earlier stage: no new demand.
        CarriedOver = "carried over",
        /// Arrives on another part, not in a bag.
        ComesFitted = "comes fitted",
        /// Taken off and kept: back in the pool from the next stage on.
        Returned = "returned",
        /// Taken off and thrown away.
        Discarded = "discarded",
        /// Sold separately: to be brought, never claimed.
        NotInKit = "not in this kit",
        /// Brought, not counted by the piece.
        Consumable = "consumable",
        /// `REF`: named for reference, makes no demand.
        Reference = "for reference",
    }
}

/// What is written under "Use", in lower case, and what it means.
const USES: &[(&str, Usage)] = &[
    ("new", Usage::New),
    ("carried over", Usage::CarriedOver),
    ("carry over", Usage::CarriedOver),
    ("already fitted", Usage::CarriedOver),
    ("already installed", Usage::CarriedOver),
    ("already in place", Usage::CarriedOver),
    ("fitted earlier", Usage::CarriedOver),
    ("from previous stage", Usage::CarriedOver),
    ("from previous step", Usage::CarriedOver),
    ("from earlier stage", Usage::CarriedOver),
    ("from earlier step", Usage::CarriedOver),
    ("existing", Usage::CarriedOver),
    ("reuse", Usage::CarriedOver),
    ("re-use", Usage::CarriedOver),
    ("reused", Usage::CarriedOver),
    ("re-used", Usage::CarriedOver),
    ("refit", Usage::CarriedOver),
    ("loosen and refit", Usage::CarriedOver),
    ("loosened and refitted", Usage::CarriedOver),
    ("comes fitted", Usage::ComesFitted),
    ("fitted", Usage::ComesFitted),
    ("factory fitted", Usage::ComesFitted),
    ("factory installed", Usage::ComesFitted),
    ("pre-fitted", Usage::ComesFitted),
    ("prefitted", Usage::ComesFitted),
    ("pre-installed", Usage::ComesFitted),
    ("preinstalled", Usage::ComesFitted),
    ("pre-assembled", Usage::ComesFitted),
    ("preassembled", Usage::ComesFitted),
    ("supplied fitted", Usage::ComesFitted),
    ("attached", Usage::ComesFitted),
    ("returned", Usage::Returned),
    ("return", Usage::Returned),
    ("remove and keep", Usage::Returned),
    ("removed and kept", Usage::Returned),
    ("remove and retain", Usage::Returned),
    ("remove and save", Usage::Returned),
    ("take off and keep", Usage::Returned),
    ("keep for later", Usage::Returned),
    ("retain", Usage::Returned),
    ("discarded", Usage::Discarded),
    ("discard", Usage::Discarded),
    ("remove and discard", Usage::Discarded),
    ("removed and discarded", Usage::Discarded),
    ("take off and discard", Usage::Discarded),
    ("throw away", Usage::Discarded),
    ("scrap", Usage::Discarded),
    ("not in this kit", Usage::NotInKit),
    ("not in kit", Usage::NotInKit),
    ("sold separately", Usage::NotInKit),
    ("not included", Usage::NotInKit),
    ("not supplied", Usage::NotInKit),
    ("by others", Usage::NotInKit),
    ("supplied by others", Usage::NotInKit),
    ("by customer", Usage::NotInKit),
    ("by installer", Usage::NotInKit),
    ("others", Usage::NotInKit),
    ("customer", Usage::NotInKit),
    ("client", Usage::NotInKit),
    ("owner", Usage::NotInKit),
    ("installer", Usage::NotInKit),
    ("contractor", Usage::NotInKit),
    ("by client", Usage::NotInKit),
    ("by owner", Usage::NotInKit),
    ("by contractor", Usage::NotInKit),
    ("supplied by customer", Usage::NotInKit),
    ("supplied by installer", Usage::NotInKit),
    ("purchase separately", Usage::NotInKit),
    ("order separately", Usage::NotInKit),
    ("field supplied", Usage::NotInKit),
    ("site supply", Usage::NotInKit),
    ("site supplied", Usage::NotInKit),
    ("supplied on site", Usage::NotInKit),
    ("local supply", Usage::NotInKit),
    ("local purchase", Usage::NotInKit),
    ("buy locally", Usage::NotInKit),
    ("bought locally", Usage::NotInKit),
    ("sourced locally", Usage::NotInKit),
    ("not provided", Usage::NotInKit),
    ("not part of this kit", Usage::NotInKit),
    ("not part of the kit", Usage::NotInKit),
    ("not supplied with the kit", Usage::NotInKit),
    ("not supplied with this kit", Usage::NotInKit),
    ("not included in the kit", Usage::NotInKit),
    ("not included in this kit", Usage::NotInKit),
    ("consumable", Usage::Consumable),
    ("consumables", Usage::Consumable),
    ("as consumable", Usage::Consumable),
    ("for reference", Usage::Reference),
    ("reference", Usage::Reference),
    ("reference only", Usage::Reference),
    ("ref", Usage::Reference),
    ("ref only", Usage::Reference),
];

/// What a cell says becomes of the pieces, if it says that and nothing else, once or in several words for it:
/// `not included, buy locally`.
pub fn usage(text: &str) -> Option<Usage> {
    let mut clauses = text.split([',', ';']).map(one_usage);
    let first = clauses.next()??;
    clauses.all(|other| other == Some(first)).then_some(first)
}

fn one_usage(text: &str) -> Option<Usage> {
    let text = fold(text);
    let text = text.trim_matches(|c: char| matches!(c, '.' | '(' | ')' | '[' | ']' | '*'));
    USES.iter()
        .find(|(words, _)| *words == text)
        .map(|&(_, usage)| usage)
}

/// A line of text without what it says in brackets, or behind a comma or dash at its end, becomes of its pieces:
/// `4 anchors (not included)`, `4 anchors - buy locally`. One word may be part of a name (`pipe, return`).
pub fn usage_beside(text: &str) -> Option<(String, Usage)> {
    let told = |phrase: &str, in_brackets: bool| {
        let is_one_word = !phrase.trim().contains([' ', '-']);
        usage(phrase).filter(|&usage| {
            usage != Usage::New && (!is_one_word || in_brackets && usage != Usage::Returned)
        })
    };
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((before, rest)) = text.split_once(open)
            && let Some((inside, after)) = rest.split_once(close)
            && let Some(usage) = told(inside, true)
        {
            return Some((
                format!("{} {}", before.trim_end(), after.trim_start()),
                usage,
            ));
        }
    }
    [", ", "; ", " - ", " – ", " — "].iter().find_map(|sign| {
        let (rest, phrase) = text.rsplit_once(sign)?;
        Some((rest.trim_end().to_owned(), told(phrase, false)?))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice, no source.
    #[test]
    fn uses_beside_a_line_of_text() {
        for (text, rest, usage) in [
            ("4 anchors (not included)", "4 anchors ", Usage::NotInKit),
            ("4 anchors [by others]", "4 anchors ", Usage::NotInKit),
            (
                "anchors (not supplied) .... 4",
                "anchors .... 4",
                Usage::NotInKit,
            ),
            ("4 anchors - buy locally", "4 anchors", Usage::NotInKit),
            (
                "4 anchors (not included, buy locally)",
                "4 anchors ",
                Usage::NotInKit,
            ),
            ("4 M8 nuts, already fitted", "4 M8 nuts", Usage::CarriedOver),
            ("4 M8 bolts (REF)", "4 M8 bolts ", Usage::Reference),
            ("2 pins; remove and keep", "2 pins", Usage::Returned),
        ] {
            assert_eq!(usage_beside(text), Some((rest.into(), usage)), "{text}");
        }
        for text in [
            "4 anchors",
            "1 pipe, return",
            "1 pipe (return)",
            "4 caps, new",
            "4 rails (left)",
            "2 brackets, customer",
        ] {
            assert_eq!(usage_beside(text), None, "{text}");
        }
    }
}
