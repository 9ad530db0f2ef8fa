//! Lines that say no more than how many pieces of an item, summed item by item on all processors.
//!
//! Of a long list nearly every line is one. They are sorted by item first, so that the sums of one item are made
//! together: from line to line these would lie far apart.

use rayon::prelude::*;

use super::{Need, Shipped, Stated};
use crate::{
    doubt::Doubt,
    grouped::Grouped,
    kit::{List, Reading, Role, What},
    settle::evidence::{Rows, Run},
};

/// In place of an item: the line says more.
const SAYS_MORE: u32 = u32::MAX;
/// Items that are summed in one go.
const ITEMS: usize = 256;

/// Where the plain lines of a placement belong.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    pub stage: u32,
    pub container: u32,
}

/// The plain lines of one list.
pub struct PlainLines {
    pub list: usize,
    pub role: Role,
    /// By line: its item, or [`SAYS_MORE`].
    items: Vec<u32>,
    /// No fewer pieces than all lines of the list come to for one kit, plain or not.
    pub most: u64,
}

/// A plain line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
struct Plain {
    stage: u32,
    container: u32,
    line: u32,
    row: u32,
    pieces: u32,
    sheet: u16,
}

impl PlainLines {
    /// No line of the list is plain.
    pub fn none(list: usize, role: Role) -> PlainLines {
        PlainLines {
            list,
            role,
            items: Vec::new(),
            most: 0,
        }
    }

    /// Finds them by the items of the readings, and by what placements have plain lines.
    pub fn of(at: usize, list: &List, ids: &[u32], places: &[Option<Place>]) -> PlainLines {
        let mut most: u64 = 0;
        let items = list.lines.iter().map(|line| {
            let pieces = line
                .quantity
                .unwrap_or(0)
                .saturating_mul(line.places.into());
            most = most
                .saturating_add(pieces)
                .saturating_add(line.back_ordered());
            let is_plain = line.more.is_none()
                && line.quantity.is_some()
                && u32::try_from(pieces).is_ok()
                && places[line.placement as usize].is_some();
            match line.what {
                What::Item(reading)
                    if is_plain && says_no_more(&list.readings[reading as usize]) =>
                {
                    ids[reading as usize]
                }
                _ => SAYS_MORE,
            }
        });
        PlainLines {
            items: items.collect(),
            most,
            ..PlainLines::none(at, list.role)
        }
    }

    pub fn holds(&self, line: usize) -> bool {
        self.items.get(line).is_some_and(|item| *item != SAYS_MORE)
    }

    /// The lines sorted by item.
    fn sorted(&self, list: &List, places: &[Option<Place>], items: usize) -> Grouped<Plain> {
        let lines = self.items.iter().zip(&list.lines).zip(0..);
        let plain = lines.filter(|((item, _), _)| **item != SAYS_MORE);
        let plain = plain.map(|((item, of), line)| {
            let place = places[of.placement as usize];
            let pieces = of.quantity.unwrap_or(0) * u64::from(of.places);
            let plain = Plain {
                stage: place.map_or(0, |place| place.stage),
                container: place.map_or(0, |place| place.container),
                line,
                row: of.row,
                pieces: pieces as u32,
                sheet: of.sheet,
            };
            (*item as usize, plain)
        });
        Grouped::by(items, plain)
    }
}

/// True where a reading says nothing of other items.
fn says_no_more(reading: &Reading) -> bool {
    !reading.comes_with && !reading.doubts.iter().any(Doubt::is_of_figure)
}

/// What plain lines come to, in order of items.
#[derive(Default)]
pub struct Summed {
    pub needs: Vec<((u32, u32), Need)>,
    pub shipped: Vec<((u32, u32), Shipped)>,
    pub bagged: Vec<((u32, u32, u32), u64)>,
    /// By role, in pieces of one kit.
    pub totals: [u64; Role::ALL.len()],
}

impl Summed {
    /// Sums the plain lines of some lists, each with what its placements are, and hands their rows to the items.
    pub fn of(
        all: &[(PlainLines, Vec<Option<Place>>)],
        lists: &[List],
        items: &mut [Stated],
    ) -> Summed {
        let count = items.len();
        let sorted = all.par_iter().map(|(plain, places)| {
            let lines = plain.sorted(&lists[plain.list], places, count);
            (plain.list, plain.role, lines)
        });
        let sorted: Vec<(usize, Role, Grouped<Plain>)> = sorted.collect();
        let chunks = items.par_chunks_mut(ITEMS).enumerate();
        let summed = chunks.map(|(chunk, items)| {
            let mut summed = Summed::default();
            let (mut lines, mut keys): (Vec<(usize, Plain)>, _) = Default::default();
            for (id, item) in (chunk * ITEMS..).zip(items) {
                for role in [Role::Required, Role::Shipped] {
                    lines.clear();
                    for (list, _, of_items) in sorted.iter().filter(|(_, of, _)| *of == role) {
                        let own = of_items.of(id);
                        lines.extend(own.iter().map(|line| (*list, *line)));
                    }
                    let Some(&(list, first)) = lines.first() else {
                        continue;
                    };
                    item.first_line = item.first_line.min((role, list, first.line as usize));
                    let rows = lines.iter();
                    let rows = rows.map(|(list, line)| Run::row(*list, line.sheet, line.row));
                    let rows = Rows::from_iter(rows);
                    let evidence = match role {
                        Role::Required => &mut item.required_by,
                        _ => &mut item.shipped_by,
                    };
                    *evidence = Rows::together([&*evidence, &rows]);
                    summed.totals[role as usize] += pieces(&lines);
                    match role {
                        Role::Required => summed.need(id as u32, item, &lines, &mut keys),
                        _ => summed.ship(id as u32, &lines, &mut keys),
                    }
                }
            }
            summed
        });
        let summed: Vec<Summed> = summed.collect();
        Summed::together(summed)
    }

    /// What one item's required lines come to.
    fn need(
        &mut self,
        item: u32,
        stated: &mut Stated,
        lines: &[(usize, Plain)],
        keys: &mut Vec<u128>,
    ) {
        for of_stage in alike(lines, |line| [0, line.stage], keys) {
            let (list, first) = of_stage.first;
            let need = Need {
                new: of_stage.pieces,
                first: Some((list as u32, first.line)),
                others: None,
            };
            stated.first_stage = stated.first_stage.min(first.stage as usize);
            self.needs.push(((item, first.stage), need));
        }
        stated.asked_apart = true;
        for in_bag in alike(lines, |line| [line.container, line.stage], keys) {
            let (_, first) = in_bag.first;
            let (container, stage) = (first.container, first.stage);
            if container != 0 {
                self.bagged.push(((item, container, stage), in_bag.pieces));
            }
        }
    }

    /// What one item's lines of slips come to.
    fn ship(&mut self, item: u32, lines: &[(usize, Plain)], keys: &mut Vec<u128>) {
        for in_bag in alike(lines, |line| [0, line.container], keys) {
            let shipped = Shipped {
                pieces: in_bag.pieces,
                ..Shipped::default()
            };
            self.shipped
                .push(((item, in_bag.first.1.container), shipped));
        }
    }

    /// The sums of some items and of those behind them.
    fn together(all: Vec<Summed>) -> Summed {
        let room = |of: fn(&Summed) -> usize| all.iter().map(of).sum();
        let mut sums = Summed {
            needs: Vec::with_capacity(room(|of| of.needs.len())),
            shipped: Vec::with_capacity(room(|of| of.shipped.len())),
            bagged: Vec::with_capacity(room(|of| of.bagged.len())),
            ..Summed::default()
        };
        for mut of in all {
            sums.needs.append(&mut of.needs);
            sums.shipped.append(&mut of.shipped);
            sums.bagged.append(&mut of.bagged);
            for (total, more) in sums.totals.iter_mut().zip(of.totals) {
                *total += more;
            }
        }
        sums
    }
}

/// Lines that belong to one place.
struct Alike {
    /// The first of them, and its list.
    first: (usize, Plain),
    pieces: u64,
}

/// Lines by place, in order. Numbers are sorted in place of lines, since these take twice the room.
fn alike<'a>(
    lines: &'a [(usize, Plain)],
    place: impl Fn(&Plain) -> [u32; 2],
    keys: &'a mut Vec<u128>,
) -> impl Iterator<Item = Alike> + 'a {
    let key = |(_, line): &(usize, Plain)| place(line).map(u128::from);
    let with_number = |([first, second], at): ([u128; 2], usize)| {
        first << PLACE_BITS | second << LINE_BITS | at as u128
    };
    keys.clear();
    keys.extend(lines.iter().map(key).zip(0..).map(with_number));
    keys.sort_unstable();
    let of_place = keys.chunk_by(|a, b| a >> LINE_BITS == b >> LINE_BITS);
    of_place.map(|of| {
        let own = of.iter().map(|key| &lines[*key as u32 as usize]);
        Alike {
            first: own.clone().next().copied().unwrap_or_default(),
            pieces: own.map(|(_, line)| u64::from(line.pieces)).sum(),
        }
    })
}

/// In a key: the bits of a line's number, and those with the second half of its place.
const LINE_BITS: u32 = u32::BITS;
const PLACE_BITS: u32 = 2 * u32::BITS;

fn pieces(lines: &[(usize, Plain)]) -> u64 {
    lines.iter().map(|(_, line)| u64::from(line.pieces)).sum()
}
