//! The rows that a sum rests on.

use crate::settle::evidence::Rows;

/// Rows of a list by item: each gets its own, in order, in as little memory as they take. They are
/// sorted by item first: going from item to item line by line would leave the processor's cache at
/// every step.
pub(super) fn by_item(
    items: usize,
    list: usize,
    rows: &[(u32, u16, u32)],
    mut give: impl FnMut(usize, Rows),
) {
    let mut ends = vec![0; items];
    for (id, ..) in rows {
        ends[*id as usize] += 1;
    }
    let mut sum = 0;
    for end in &mut ends {
        // Each is the start of its item's rows, until these are put in their places.
        sum += std::mem::replace(end, sum);
    }
    let mut sorted = vec![(0, 0); rows.len()];
    for &(id, sheet, row) in rows {
        let place = &mut ends[id as usize];
        sorted[*place] = (sheet, row);
        *place += 1;
    }
    let mut start = 0;
    for (item, end) in ends.into_iter().enumerate() {
        let own = &sorted[start..end];
        start = end;
        if own.is_empty() {
            continue;
        }
        let mut rows = Rows::default();
        for &(sheet, row) in own {
            rows.push(list, sheet, row);
        }
        give(item, rows);
    }
}
