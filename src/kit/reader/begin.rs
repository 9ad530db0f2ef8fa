//! Where the lines of a text begin: plain parts stand above the first hardware, too.

use super::{
    super::remark,
    beside::{are_several, count_behind, is_parted_by_sign},
    named::is_dated,
};
use crate::{
    columns::furniture,
    notation::{Callout, Notation, describe},
    source::Row,
};

/// Plain words of a part are few.
const WORDS: usize = 4;

/// So many lines of plain parts are a list without any hardware.
const ENOUGH: usize = 3;

/// The number of the first row of a text's list, where above its first hardware stand plain words with a figure
/// behind: `rails 8` over `M8 nuts 6`, with titles and blank rows between. One such line at the head of the file
/// that begins large is its title, unless the next
/// ends in a figure, too, or its words name several: `Kit 4`, and `Roof sheets 4`.
pub(super) fn first_line(head: &[Row], notation: Notation) -> Option<u32> {
    let mut text = String::new();
    let mut texts = Vec::with_capacity(head.len());
    for row in head {
        row.join_into(&mut text);
        texts.push(text.clone());
    }
    let is_part = |text: &str| {
        let body = furniture::without_bullet(text);
        let body = remark::without_all_well(&body).unwrap_or(&body);
        let handed = || {
            describe(body, notation).is_ok_and(|all| {
                all.len() > 1
                    && all
                        .iter()
                        .all(|one| !one.is_hardware() && one.quantity.is_some())
            })
        };
        let is_one = |body: &str| {
            count_behind(body, notation).is_some_and(|(words, count)| {
                let bulleted = furniture::without_bullet(text).len() < text.trim().len();
                let few = (1..=WORDS).contains(&words.split_whitespace().count());
                few && (bulleted || !is_year(count))
            })
        };
        (is_one(body) || body.split(", ").all(is_one) || handed())
            && furniture::stage_title(text).is_none()
            && furniture::container(text).is_none()
            && !furniture::is_paper(text)
            && !furniture::names_list(text)
            && !furniture::is_total(text)
    };
    let is_counted = |text: &str| {
        let all = describe(&furniture::without_bullet(text), notation);
        all.is_ok_and(|all| all.iter().any(|callout| callout.quantity.is_some()))
    };
    let names = |is: fn(&Callout) -> bool| {
        move |text: &String| {
            !is_dated(text) && describe(text, notation).is_ok_and(|all| all.iter().any(is))
        }
    };
    let counted = |callout: &Callout| callout.is_hardware() && callout.quantity.is_some();
    // One behind another in a row, too: `long rails 2, short rails 2`.
    let in_row = |text: &String| text.split(", ").count();
    let parts = || {
        let parts = texts.iter().filter(|text| is_part(text));
        parts.map(in_row).sum::<usize>()
    };
    let first = (texts.iter().position(names(counted)))
        .or_else(|| texts.iter().position(names(Callout::is_hardware)))
        // Parts alone.
        .or_else(|| (parts() >= ENOUGH).then_some(texts.len()))?;
    let is_title = |text: &str| !text.contains(|c: char| c.is_ascii_digit());
    // What is between lines and not understood ends no list: `uprights 1 L 1 R`.
    let may_be_line = |text: &str| {
        text.split_whitespace().count() <= WORDS + 1
            && !furniture::is_paper(text)
            && !furniture::is_note(text)
            && !furniture::is_page_or_footnote(text)
            && !furniture::names_list(text)
            && furniture::revision_and_date(text) == (None, None)
    };
    let head_of_file = texts.iter().position(|text| !text.trim().is_empty());
    // Right above the list a line with a figure is of it: `posts 3 (rear one missing)`. The file's title begins large.
    let is_of_list = |at: usize, text: &str, begins: usize| {
        at + 1 == begins
            && (head_of_file != Some(at) || text.starts_with(char::is_lowercase))
            && !is_title(text)
            && may_be_line(text)
            && !text.trim_end().ends_with(':')
            && furniture::stage_title(text).is_none()
            && furniture::container(text).is_none()
            && !furniture::is_total(text)
    };
    let mut begins = first;
    for (at, text) in texts[..first].iter().enumerate().rev() {
        if is_part(text) || is_of_list(at, text, begins) {
            begins = at;
        } else if !is_title(text)
            && !is_counted(text)
            && !may_be_line(text)
            // `cross rails 11, one of them is bent`
            && remark::counted_in_words(text).is_none()
        {
            break;
        }
    }
    let next = texts.get(begins + 1).is_some_and(|next| is_part(next));
    if head_of_file == Some(begins)
        && texts[begins].starts_with(char::is_uppercase)
        && !next
        && !is_parted_by_sign(&texts[begins])
        && !names_several(&texts[begins], notation)
        && !texts
            .get(begins + 1)
            .is_some_and(|next| ends_in_figure(next))
        && furniture::without_bullet(&texts[begins]) == texts[begins].trim()
    {
        begins = (begins + 1..first)
            .find(|at| is_part(&texts[*at]))
            .unwrap_or(first);
    }
    (begins < first).then(|| head[begins].number)
}

/// True for words that name several pieces, and how many: `Roof sheets 4`, no `Kits 4`.
fn names_several(text: &str, notation: Notation) -> bool {
    count_behind(text, notation).is_none_or(|(words, _)| {
        let words = words.to_lowercase();
        are_several(&words) && !words.ends_with("kits") && !words.ends_with("sets")
    })
}

fn ends_in_figure(text: &str) -> bool {
    let figures = |word: &str| word.bytes().all(|b| b.is_ascii_digit());
    let last = text.trim_end().rsplit_once(' ').map(|(_, last)| last);
    last.is_some_and(figures)
}

pub(super) fn is_year(count: u64) -> bool {
    (1900..2100).contains(&count)
}
