//! How tight a sentence says a joint to be: by a figure, by turning on, or to a feel.

use std::sync::LazyLock;

use super::{
    rule::Rule,
    wording::{ends_with_word, mask},
    words::Words,
};
use crate::{
    doubt::Doubt,
    notation::torque::{self, Called},
    words::pattern,
};

/// A torque as written, with where it stands.
type Torques = Vec<(usize, String)>;

static TORQUE: Rule = Rule::new(
    "lb|lbs|lbf|lbsf|lbft|lbin|lbsi|lbff|lbfi|ft|ftlb|ftpo|inlb|inpo|foot|feet|inch|pound|n|nm|ncm|nmm|newton|kg|kgf|kgm|\
     kgfm|kgcm|kgfc|snug|hand|finger|wrench|spanner|nip|nipped",
    "",
    || pattern(&torque::in_words()),
);

/// `Torque to 45.`, `Tighten the nuts to 45 lbs.`: a figure without a unit that is known.
static BARE: Rule = Rule::new("torque|retorque|tighten|retighten|tightness", "", || {
    pattern(
        r"(?ix) \b (?:re-?)? (?: torque | tighten | tightness ) \w* (?: \s+ [a-z'-]+ ){0,6}? \s* (?: [:=] | \b (?: to | of | torque ) \b ) \s*
            (?P<torque> \d+ (?:[.,]\d+)? (?: \s* (?: lbs? | pounds? | kgs? | bar | psi | n | f | ft | m ) \b )? )
            \s* (?: [.,;)] | $ | and \b | then \b )",
    )
});

/// Verbs that tighten with an `up` of their own, which sets no limit.
static UP: LazyLock<regex::Regex> = LazyLock::new(|| {
    pattern(r"(?i)\b(?:do|done|doing|nip|nipped|run|wind|wound|draw|drawn|pull|pulled)\b[^.,;]*$")
});

/// Words of tightening, in sentences of which more may say how tight.
static TIGHTENS: Rule = Rule::new("torque|retorque|tight|retight|snug|nip|nipped", "", || {
    pattern(r"(?i)\b(?:re-?)?(?:torque|tight|snug|nip)")
});

/// What says how tight beside a torque that was read, or where none was.
static MORE: LazyLock<regex::Regex> = LazyLock::new(|| {
    pattern(
        r"(?ix) [\d½¼¾⅓] [\s-]* turns? \b | \b (?: half | quarter | third | full | one | two | three | four | a ) [\s-]+ (?: (?: of \s+ )? an? \s+ )? (?: turns? | revolutions? | flats? ) \b
          | \d+ \s* (?: ° | deg | % ) | \d \s* (?: lbs? | pounds? | kgf? | bar ) \b
          | \b (?: stages | steps | passes ) \s* [,:(] | \b (?: max(?:imum)? | min(?:imum)? | at \s (?:least|most) | exceed | no \s more \s than ) \b
          | \b (?: dry | oiled | lubricated | greased ) \b | ± | \+/-",
    )
});

/// The torques of a sentence, which are masked, and a doubt where more of it may say how tight.
pub(super) fn torques(words: &Words, text: &str, masked: &mut String) -> (Torques, Option<Doubt>) {
    let mut torques: Torques = Vec::new();
    for found in TORQUE.find_iter(words, text) {
        // `the bolts of step 1 to 90 ft-lb`, `the posts 1 and 2 to 60 N·m`
        let lead = text[..found.start()].trim_end();
        let named = ["step", "stage", "section", "steps", "stages", "sections"];
        let named = named.iter().any(|stage| ends_with_word(lead, stage))
            || [" and", ",", " &"].iter().any(|join| {
                let listed = lead.strip_suffix(join);
                listed
                    .is_some_and(|listed| listed.trim_end().ends_with(|c: char| c.is_ascii_digit()))
            });
        // `Do the bolts up to 20 N·m`
        let done_up = UP.is_match(lead);
        let torque = match found.as_str().split_once(" to ") {
            Some((up, torque)) if named || (done_up && up.eq_ignore_ascii_case("up")) => torque,
            _ => found.as_str(),
        };
        // `45 ft-lb (61 N·m)`: one torque in both units.
        let again = torques.last_mut().filter(|(at, last)| {
            let between = text[at + last.len()..found.start()].trim();
            !last.contains('(') && ["(", "/", "["].contains(&between)
        });
        match again {
            Some((at, last)) => {
                *last = format!("{} ({})", &text[*at..*at + last.len()], torque.trim())
            }
            None => torques.push((found.end() - torque.len(), torque.trim().to_owned())),
        }
        mask(masked, found.range(), true);
    }
    let tightens = || TIGHTENS.is_match(words, text);
    if torques.is_empty() && !BARE.may_find(words) && !TIGHTENS.may_find(words) {
        return (torques, None);
    }
    let bare = match torques.is_empty() {
        true => BARE.captures(words, text),
        false => None,
    };
    let bare = bare.and_then(|found| found.name("torque"));
    let has_bare = bare.is_some();
    if let Some(bare) = bare {
        torques.push((bare.start(), bare.as_str().to_owned()));
        mask(masked, bare.range(), true);
    }
    let is_open = |(_, torque): &&(usize, String)| {
        // Of the units that the pattern knows only kilograms are none, and zero is no torque.
        let mut figures = torque.split(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ','));
        let is_none = |figure: &str| !figure.parse::<f64>().is_ok_and(|figure| figure > 0.0);
        let may_be = has_bare
            || torque.contains(['k', 'K'])
            || figures.any(|figure| !figure.is_empty() && is_none(figure));
        let is = || matches!(torque::read(torque), Called::Unread(_));
        debug_assert!(may_be || !is(), "{torque}");
        may_be && is()
    };
    if let Some((_, torque)) = torques.iter().find(is_open) {
        let said = format!("the torque \"{torque}\" has no unit that is known");
        return (torques, Some(Doubt::Said(said.into())));
    }
    let doubt = tightens().then(|| MORE.find(masked)).flatten().map(|more| {
        let words = more.as_str().trim_matches([' ', ',', ':', '(']);
        let said = match torques.last() {
            Some((_, torque)) => {
                format!("the torque is {torque}, and \"{words}\" may say more of it")
            }
            None => format!("\"{words}\" may say how tight: no torque was read"),
        };
        Doubt::Said(said.into())
    });
    (torques, doubt)
}

#[cfg(test)]
mod tests {
    use super::*;

    // How it is written is common practice, no source.
    #[test]
    fn as_written() {
        #[track_caller]
        fn case(text: &str, expected: &[&str], doubt: Option<&str>) {
            let mut masked = text.to_owned();
            let (found, doubted) = torques(&Words::of(text), text, &mut masked);
            let found: Vec<&str> = found.iter().map(|(_, torque)| &**torque).collect();
            assert_eq!(found, expected, "{text}");
            let doubted = doubted.map(|doubt| doubt.to_string());
            assert_eq!(doubted.as_deref(), doubt, "{text}");
        }
        for torque in [
            "45 ft-lb",
            "45 foot pounds",
            "45 pound-feet",
            "45 pounds-feet",
            "45 (ft-lb)",
            "540 in-lb",
            "61 newton metres",
            "20 N·m",
            "20Nm",
            "490 N·cm",
            "4.9 kgf·m",
            "45-50 ft-lb",
            "between 40 and 45 ft-lb",
            "45 ft-lb +/- 5",
            "45 ± 5 N·m",
            "45 ft-lb plus 90 degrees",
            "45 ft-lb, then a further quarter turn",
            "at least 45 ft-lb",
            "45 ft-lb max",
            "45 ft-lb (61 N·m)",
            "snug plus a half turn",
            "snug-tight, then turn 90 degrees",
            "Snug + 1/4 turn",
            "one turn past snug",
            "a quarter turn past hand tight",
            "hand tight plus a half turn",
            "finger-tight plus two turns",
            "hand-tight",
        ] {
            case(&format!("Tighten to {torque}."), &[torque], None);
        }
        // `up` of the verb, and of a limit
        case("Do the bolts up to 20 N·m.", &["20 N·m"], None);
        case("Nip the nuts up to 20 N·m.", &["20 N·m"], None);
        case("Tighten to up to 20 N·m.", &["up to 20 N·m"], None);
        let open = |torque: &str| format!("the torque \"{torque}\" has no unit that is known");
        case("Torque: 45.", &["45"], Some(&open("45")));
        case(
            "Torque the bolts to 45 lbs.",
            &["45 lbs"],
            Some(&open("45 lbs")),
        );
        case("Torque to 6 kg·m.", &["6 kg·m"], Some(&open("6 kg·m")));
        case("Torque to 0 ft-lb.", &["0 ft-lb"], Some(&open("0 ft-lb")));
        case(
            "Tighten, then give each nut a half turn.",
            &[],
            Some("\"half turn\" may say how tight: no torque was read"),
        );
        case(
            "Torque in two steps, 20 and 45 ft-lb.",
            &["45 ft-lb"],
            Some("the torque is 45 ft-lb, and \"steps\" may say more of it"),
        );
        for none in [
            "Tighten the bolts fully.",
            "Tighten bolts 1 to 4.",
            "Turn the frame over.",
            "Tighten the nuts of step 4.",
            "Fit two bolts in each of 4 posts and tighten.",
        ] {
            case(none, &[], None);
        }
    }
}
