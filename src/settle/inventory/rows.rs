//! The rows that a sum rests on.

use crate::settle::account::Evidence;

/// Rows of a list by item: each gets its own, in order, in as little memory as they take. They are
/// sorted by item first: going from item to item line by line would leave the processor's cache at
/// every step.
pub(super) fn by_item(
    items: usize,
    list: usize,
    rows: &[(u32, u16, u32)],
    mut give: impl FnMut(usize, Vec<Evidence>),
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
        // Most items stand on one sheet.
        let mut evidence = Vec::with_capacity(1);
        for &(sheet, row) in own {
            push_row(&mut evidence, list, sheet, row);
        }
        give(item, evidence);
    }
}

/// Adds a row to the evidence, as part of the last run where it follows on.
pub fn push_row(evidence: &mut Vec<Evidence>, list: usize, sheet: u16, row: u32) {
    let sheet = usize::from(sheet);
    match evidence.last_mut() {
        Some(last) if last.list == list && last.sheet == sheet => match last.rows.last_mut() {
            Some((first, end)) if (*first..=end.saturating_add(1)).contains(&row) => {
                *end = (*end).max(row);
            }
            _ => last.rows.push((row, row)),
        },
        _ => evidence.push(Evidence {
            list,
            sheet,
            rows: vec![(row, row)],
        }),
    }
}

/// Sorts evidence, one entry a sheet, runs in order and joined.
pub fn fold(evidence: &mut Vec<Evidence>) {
    evidence.sort_by_key(|e| (e.list, e.sheet));
    evidence.dedup_by(|next, kept| {
        let same = (next.list, next.sheet) == (kept.list, kept.sheet);
        if same {
            kept.rows.append(&mut next.rows);
        }
        same
    });
    for entry in evidence {
        if !entry.rows.is_sorted() {
            entry.rows.sort_unstable();
        }
        entry.rows.dedup_by(|next, kept| {
            let joins = next.0 <= kept.1.saturating_add(1);
            if joins {
                kept.1 = kept.1.max(next.1);
            }
            joins
        });
    }
}
