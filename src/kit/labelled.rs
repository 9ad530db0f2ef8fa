//! Figures that a line of text labels as a table heads its columns: `ORD 24  SHIP 20  B/O 4`.
//!
//! A label is a word of the headings. Its figure stands behind it, or else in front: `22 good, 1 bent`.

use std::{ops::Range, sync::LazyLock};

use regex::Regex;

use super::role::Role;
use crate::{
    columns::{Meaning, heading},
    words::pattern,
};

/// What a line says besides its labelled figures, and these.
#[derive(Debug, PartialEq, Eq)]
pub struct Labelled {
    pub rest: String,
    figures: Vec<(Meaning, u64)>,
}

impl Labelled {
    /// The labelled figures of a line of a slip or a count. `None` where one word alone may be part of a
    /// sentence (`sent 2 boxes of 100`), or a label has no figure.
    pub fn of(text: &str, role: Role) -> Option<Labelled> {
        let wanted: &[Meaning] = match role {
            Role::Shipped => &[Meaning::Ordered, Meaning::Shipped, Meaning::BackOrdered],
            Role::Counted => &[Meaning::Good, Meaning::Damaged],
            _ => return None,
        };
        let words = words(text);
        let labels = labels(text, &words, wanted);
        let figures = figures_of(text, &words, &labels)?;
        let ends = |at: &usize| *at + 1 == words.len();
        let last_label = labels.last()?.words.end - 1;
        if labels.len() < 2 && !ends(&last_label) && !ends(figures.last()?) {
            return None;
        }
        let cut = |at: usize| labels.iter().any(|l| l.words.contains(&at)) || figures.contains(&at);
        let kept = (0..words.len()).filter(|&at| !cut(at));
        let rest: Vec<&str> = kept.map(|at| &text[words[at].clone()]).collect();
        let read = |at: &usize| text[words[*at].clone()].parse().ok();
        let all = labels.iter().zip(&figures);
        let figures = all.map(|(label, figure)| Some((label.meaning, read(figure)?)));
        Some(Labelled {
            rest: rest.join(" "),
            figures: figures.collect::<Option<_>>()?,
        })
    }

    /// True where it labels more figures than one: no sentence does.
    pub fn is_several(&self) -> bool {
        self.figures.len() > 1
    }

    /// The figure under a label.
    pub fn figure(&self, meaning: Meaning) -> Option<u64> {
        let found = self.figures.iter().find(|(of, _)| *of == meaning);
        found.map(|(_, figure)| *figure)
    }
}

struct Label {
    words: Range<usize>,
    meaning: Meaning,
}

/// Words, with the marks that stand between figures and labels left out.
fn words(text: &str) -> Vec<Range<usize>> {
    static WORD: LazyLock<Regex> =
        LazyLock::new(|| pattern(r"[^\s|:;=()]+[^\s|:;=(),.]|[^\s|:;=(),.]"));
    WORD.find_iter(text).map(|word| word.range()).collect()
}

/// The labels among the words, each meaning at most once; a label may be of two words (`to follow`).
fn labels(text: &str, words: &[Range<usize>], wanted: &[Meaning]) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let label = [2, 1].into_iter().find_map(|many| {
            let last = words.get(at + many - 1)?;
            let written = &text[words[at].start..last.end];
            let is_word = heading::may_label(&text[words[at].clone()])
                && !written.contains(|c: char| c.is_ascii_digit());
            let meaning = is_word.then(|| heading::recognise(written))??.meaning;
            wanted.contains(&meaning).then_some((many, meaning))
        });
        match label {
            Some((many, meaning)) if labels.iter().all(|label| label.meaning != meaning) => {
                labels.push(Label {
                    words: at..at + many,
                    meaning,
                });
                at += many;
            }
            _ => at += 1,
        }
    }
    labels
}

/// The word that is the figure of each label: all stand behind, or all in front, or some in front since
/// nothing stands behind.
fn figures_of(text: &str, words: &[Range<usize>], labels: &[Label]) -> Option<Vec<usize>> {
    let is_figure = |at: &usize| {
        let word = &text[words[*at].clone()];
        word.len() <= 6 && word.bytes().all(|b| b.is_ascii_digit())
    };
    let tied =
        |a: usize, b: usize| !text[words[a].end..words[b].start].contains([',', ';', '(', ')']);
    // `sent 1 1/2 nuts`, `3/8 x 4 sent`.
    let begins_size = |at: usize| {
        words.get(at + 1).is_some_and(|next| {
            text[next.clone()].contains('/')
                && text[next.clone()].starts_with(|c: char| c.is_ascii_digit())
        })
    };
    let ends_size = |at: usize| {
        at.checked_sub(1)
            .is_some_and(|before| matches!(&text[words[before].clone()], "x" | "X" | "by"))
    };
    let behind = |label: &Label| {
        let at = label.words.end;
        let found = Some(at).filter(|&at| at < words.len()).filter(is_figure)?;
        (tied(at - 1, at) && !begins_size(at)).then_some(found)
    };
    let before = |label: &Label| {
        let at = label.words.start.checked_sub(1)?;
        (is_figure(&at) && tied(at, at + 1) && !ends_size(at)).then_some(at)
    };
    let each =
        |of: &dyn Fn(&Label) -> Option<usize>| labels.iter().map(of).collect::<Option<Vec<_>>>();
    let found = each(&behind)
        .or_else(|| each(&before))
        .or_else(|| each(&|label| behind(label).or_else(|| before(label))))?;
    let apart = found
        .iter()
        .enumerate()
        .all(|(at, figure)| !found[..at].contains(figure));
    apart.then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, role: Role, rest: &str, figures: &[(Meaning, u64)]) {
        let figures = figures.to_vec();
        let rest = rest.to_owned();
        assert_eq!(Labelled::of(text, role), Some(Labelled { rest, figures }));
    }

    // How packing slips and bench notes are written: common practice, no source.
    #[test]
    fn labels_and_figures() {
        use Meaning::{BackOrdered, Damaged, Good, Ordered, Shipped};
        let slip = |text, rest, figures| case(text, Role::Shipped, rest, figures);
        slip(
            "FW 5/8 USS HDG    ORD 60  SHIP 60  B/O 0",
            "FW 5/8 USS HDG",
            &[(Ordered, 60), (Shipped, 60), (BackOrdered, 0)],
        );
        slip(
            "5/8 HEX NUT  ORD: 24  SHIPPED: 20",
            "5/8 HEX NUT",
            &[(Ordered, 24), (Shipped, 20)],
        );
        slip(
            "Shipped 16 M10 nuts, back-ordered 4",
            "M10 nuts",
            &[(Shipped, 16), (BackOrdered, 4)],
        );
        slip(
            "1/2 x 3 carriage bolt, ordered 10, sent 8, 2 to follow",
            "1/2 x 3 carriage bolt",
            &[(Ordered, 10), (Shipped, 8), (BackOrdered, 2)],
        );
        slip(
            "M10 nut 16 shipped 4 back-ordered",
            "M10 nut",
            &[(Shipped, 16), (BackOrdered, 4)],
        );
        slip("M10 hex nut shipped 24", "M10 hex nut", &[(Shipped, 24)]);
        let count = |text, rest, figures| case(text, Role::Counted, rest, figures);
        count(
            "1/2 x 3 hex bolts: 22 good, 1 bent",
            "1/2 x 3 hex bolts",
            &[(Good, 22), (Damaged, 1)],
        );
        count(
            "M8 nut  good 7  damaged 0",
            "M8 nut",
            &[(Good, 7), (Damaged, 0)],
        );
    }

    #[test]
    fn words_that_label_nothing() {
        for text in [
            "sent 2 boxes of 100 wood screws",
            "sent 1 1/2 hex nuts",
            "bolt 3/8 x 4 sent",
            "12 wing nuts, back-ordered",
            "24 hex nuts 5/8",
            "shipped 8 M8 nuts",
        ] {
            assert_eq!(Labelled::of(text, Role::Shipped), None, "{text}");
        }
        assert_eq!(Labelled::of("7, one missing", Role::Counted), None);
        assert_eq!(
            Labelled::of("M8 nut ordered 8 shipped 8", Role::Required),
            None
        );
    }
}
