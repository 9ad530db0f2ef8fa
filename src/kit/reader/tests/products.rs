//! Lists that would ask for as much memory as two of their counts multiplied.

use super::*;

fn guide(sentences: impl Iterator<Item = String>) -> List {
    let text: String = sentences.map(|text| text + "\n\n").collect();
    let text = format!("Guide\n\nStage 1: Frame\n\n{text}");
    read_list("guide.md", text, Required)
}

#[test]
fn repetitions_make_no_more_lines_than_a_stage_can_hold() {
    let fit = (0..300).map(|i| format!("Fit two M8 x {} bolts.", 10 + i));
    let again = std::iter::repeat_n("Repeat for the other side.".to_owned(), 60);
    let list = guide(fit.chain(again));
    let aside = list
        .lines
        .iter()
        .filter(|line| line.quantity.is_none())
        .count();
    // 10,000 lines less the sentences' own are repeated in 32 times 300.
    assert_eq!((list.lines.len() - aside, aside), (300 * 33, 28));
}

#[test]
fn a_sentence_is_doubted_once_that_several_rows_may_list() {
    let need = (0..40).map(|i| format!("You will need two M8 x {} bolts.", 10 + i));
    let plain = std::iter::repeat_n("You will need two M8 bolts.".to_owned(), 20);
    let fit = (0..40).map(|i| format!("Fit two M8 x {} bolts.", 10 + i));
    let fit_plain = std::iter::repeat_n("Fit two M8 bolts.".to_owned(), 20);
    let list = guide(need.chain(plain).chain(fit).chain(fit_plain));
    let most = list
        .lines
        .iter()
        .map(|line| list.doubts_of(line).count())
        .max();
    assert!(most < Some(5), "{most:?}");
}
