//! The lines, taken list by list: the [`bags`] that they name, what [`counts`] say, and what was [`unread`] of them.

mod bags;
mod counts;
mod unread;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{
    Container, Counted, CountedTwice, Inventory, MOST_PIECES, Need, Shipped, Stocked, Unread,
    named::Named,
    plain::{self, PlainLines, Summed},
    state_items, too_many,
};
use counts::counted_again;
use unread::unread_line;

use crate::{
    Result,
    doubt::Doubt,
    grouped::Grouped,
    kit::{Job, Line, List, Role, Usage, What, job::SecondList, remark},
    settle::{
        account::LineRef,
        evidence::{Rows, Run},
        options::Chosen,
        parcels::Parcels,
        stages::Stages,
    },
};

/// For a line that belongs to no stage that is built.
const NO_STAGE: usize = u32::MAX as usize;

/// What a placement comes to.
#[derive(Clone, Copy)]
struct Place {
    stage: usize,
    chosen: bool,
    usage: Usage,
    container: u32,
    /// The bag or box that holds it, where that did not arrive.
    missing: Option<u32>,
}

/// The work of summing.
pub(super) struct Taking<'a> {
    kits: u64,
    /// Required lists that name one item in one stage are added up.
    adds: bool,
    lists: &'a [List],
    parcels: &'a Parcels,
    /// Where there are several parcels: what the slips list, by parcel and item.
    brought: FxHashMap<(u32, u32), u64>,
    /// Item ids of each list's readings.
    ids: Vec<Vec<u32>>,
    /// Once it is asked for.
    named: Option<Named>,
    /// Pieces so far, by role.
    totals: [u64; Role::ALL.len()],
    /// Item, sheet and row of the lines of the list at hand that count for something.
    rows: Vec<(u32, u16, u32)>,
    containers: Vec<Container>,
    container_ids: FxHashMap<Container, u32>,
    needs: FxHashMap<(u32, u32), Need>,
    shipped: FxHashMap<(u32, u32), Shipped>,
    /// What the lines come to that say no more than how many.
    plain: Summed,
    counted: FxHashMap<(u32, u32), Counted>,
    /// By item and bag: the rows that count good pieces, with these.
    counts: FxHashMap<(u32, u32), Vec<(LineRef, u64)>>,
    asked_twice: FxHashMap<u32, u64>,
    stocked: FxHashMap<u32, Stocked>,
    left_over: FxHashMap<u32, u64>,
    packs: FxHashMap<u32, (Role, u64)>,
    /// As they come, until all required lists are taken.
    bagged: Vec<((u32, u32, u32), u64)>,
    /// Slip lines that are bags: the line, the bag, how many of it.
    slip_bags: Vec<(LineRef, u32, u64)>,
    /// Lines of counts that are bags, of which nobody counted what is in them.
    bags_counted: Vec<(LineRef, u32)>,
    /// Bags that did not arrive, with the rows that list them or their pieces.
    missing: FxHashMap<u32, Vec<Run>>,
    unread: FxHashMap<usize, Unread>,
    aside: FxHashMap<usize, Unread>,
    unsure: FxHashMap<usize, Unread>,
    of: Inventory,
}

impl<'a> Taking<'a> {
    /// Nothing is summed yet.
    pub fn start(job: &Job, lists: &'a [List], parcels: &'a Parcels) -> Taking<'a> {
        let (items, ids) = state_items(lists, job);
        Taking {
            kits: job.kits,
            lists,
            parcels,
            brought: FxHashMap::default(),
            ids,
            named: None,
            adds: job.second_list == SecondList::Adds,
            totals: [0; Role::ALL.len()],
            rows: Vec::new(),
            containers: vec![Container::default()],
            container_ids: FxHashMap::default(),
            needs: FxHashMap::default(),
            shipped: FxHashMap::default(),
            plain: Summed::default(),
            counted: FxHashMap::default(),
            counts: FxHashMap::default(),
            asked_twice: FxHashMap::default(),
            stocked: FxHashMap::default(),
            left_over: FxHashMap::default(),
            packs: FxHashMap::default(),
            bagged: Vec::new(),
            slip_bags: Vec::new(),
            bags_counted: Vec::new(),
            missing: FxHashMap::default(),
            unread: FxHashMap::default(),
            aside: FxHashMap::default(),
            unsure: FxHashMap::default(),
            of: Inventory {
                ids: Vec::new(),
                items,
                containers: Vec::new(),
                needs: Vec::new(),
                shipped: Vec::new(),
                counted: Vec::new(),
                stocked: Vec::new(),
                left_over: Vec::new(),
                packs: Vec::new(),
                blank: Vec::new(),
                bagged: Vec::new(),
                not_received: Vec::new(),
                unopened: Vec::new(),
                not_chosen: Vec::new(),
                no_demand: Vec::new(),
                fitted: Vec::new(),
                unread: Vec::new(),
                aside: Vec::new(),
                several_parcels: parcels.number > 1,
                undated: Vec::new(),
                unsure: Vec::new(),
                figures_unread: Vec::new(),
                obscure: Vec::new(),
                slips_unread: Vec::new(),
                counted_twice: Vec::new(),
                asked_twice: Vec::new(),
            },
        }
    }

    /// `quantity` times `times`, added to the role's total.
    fn pieces(&mut self, at: LineRef, quantity: u64, times: u64, kits: u64) -> Result<u64> {
        let role = self.lists[at.list].role;
        let total = &mut self.totals[role as usize];
        quantity
            .checked_mul(times)
            .and_then(|pieces| {
                *total = pieces
                    .checked_mul(kits)?
                    .checked_add(*total)
                    .filter(|total| *total <= MOST_PIECES)?;
                Some(pieces)
            })
            .ok_or_else(|| too_many(self.lists, at))
    }

    /// Takes the lists of some roles, role by role, that were there when the parcel `through` had come.
    pub fn take(
        &mut self,
        roles: &[Role],
        through: u32,
        stages: &Stages,
        chosen: &Chosen,
    ) -> Result<()> {
        let lists = self.lists;
        let mut given: Vec<(usize, Vec<Place>)> = Vec::new();
        for role in roles {
            for (at, list) in lists.iter().enumerate() {
                if list.role == *role && self.parcels.had_come(lists, at, through) {
                    given.push((at, self.places(at, stages, chosen)));
                }
            }
        }
        let plain = self.plain_lines(&given);
        for ((at, places), (plain, _)) in given.iter().zip(&plain) {
            self.take_others(*at, places, plain, stages)?;
        }
        self.plain = Summed::of(&plain, lists, &mut self.of.items);
        self.bagged.append(&mut self.plain.bagged);
        for (role, pieces) in self.plain.totals.into_iter().enumerate() {
            self.totals[role] += pieces * self.kits_of(role);
        }
        Ok(())
    }

    /// What each placement of a list comes to.
    fn places(&mut self, at: usize, stages: &Stages, chosen: &Chosen) -> Vec<Place> {
        let placements = self.lists[at].placements.iter();
        placements
            .map(|placement| {
                let container = self.container(
                    placement.bag.as_deref(),
                    placement.carton.as_deref(),
                    self.parcels.of_list(at),
                );
                let of = &self.containers[container as usize];
                let missing = self.missing.keys().copied();
                Place {
                    stage: stages.of(placement.stage.as_deref()).unwrap_or(NO_STAGE),
                    chosen: chosen.takes(placement.option.as_ref()),
                    usage: placement.usage.unwrap_or(Usage::New),
                    container,
                    missing: missing
                        .filter(|bag| self.containers[*bag as usize].holds(of))
                        .min(),
                }
            })
            .collect()
    }

    /// The lines of lists that say no more than how many, and what placements have such lines. None where all lines
    /// of a role may be too many, so that the row is found with which they are.
    fn plain_lines(
        &self,
        given: &[(usize, Vec<Place>)],
    ) -> Vec<(PlainLines, Vec<Option<plain::Place>>)> {
        let required = given.iter().map(|(at, _)| self.lists[*at].role);
        let required = required.filter(|role| *role == Role::Required).count();
        let of_list = |(at, places): &(usize, Vec<Place>)| {
            let list = &self.lists[*at];
            let plain = |place: &Place| {
                let is_plain = place.missing.is_none()
                    && match list.role {
                        Role::Required => {
                            place.chosen && place.usage == Usage::New && place.stage != NO_STAGE
                        }
                        _ => true,
                    };
                is_plain.then_some(plain::Place {
                    stage: place.stage as u32,
                    container: place.container,
                })
            };
            let places = places.iter().map(plain).collect::<Vec<_>>();
            let is_read_again = || list.sheets.iter().any(|sheet| sheet.may_be_again);
            let lines = match list.role {
                Role::Required if required > 1 && !self.adds || is_read_again() => {
                    PlainLines::none(*at, list.role)
                }
                Role::Required | Role::Shipped => {
                    PlainLines::of(*at, list, &self.ids[*at], &places)
                }
                role => PlainLines::none(*at, role),
            };
            (lines, places)
        };
        let mut all: Vec<_> = given.par_iter().map(of_list).collect();
        for role in [Role::Required, Role::Shipped] {
            let of_role = || {
                all.iter()
                    .map(|(lines, _)| lines)
                    .filter(|l| l.role == role)
            };
            let most = of_role().fold(0u64, |sum, lines| sum.saturating_add(lines.most));
            if most.saturating_mul(self.kits_of(role as usize)) > MOST_PIECES {
                let of_role = all.iter_mut().filter(|(lines, _)| lines.role == role);
                of_role.for_each(|(lines, _)| *lines = PlainLines::none(lines.list, role));
            }
        }
        all
    }

    /// How many kits a line of a role speaks of.
    fn kits_of(&self, role: usize) -> u64 {
        match role == Role::Required as usize {
            true => self.kits,
            false => 1,
        }
    }

    /// Takes the lines of a list that are not plain.
    fn take_others(
        &mut self,
        at: usize,
        places: &[Place],
        plain: &PlainLines,
        stages: &Stages,
    ) -> Result<()> {
        let lists = self.lists;
        let list = &lists[at];
        for (index, line) in list.lines.iter().enumerate() {
            if plain.holds(index) {
                continue;
            }
            let place = places[line.placement as usize];
            let at = LineRef {
                list: at,
                line: index,
            };
            if let What::Item(reading) = line.what {
                let id = self.ids[at.list][reading as usize];
                let first = &mut self.of.items[id as usize].first_line;
                *first = (*first).min((list.role, at.list, index));
            }
            match list.role {
                Role::Required => self.required(at, line, place, stages)?,
                Role::Shipped => self.slip(at, line, place)?,
                Role::Counted => self.count(at, line, place)?,
                Role::Compared => {}
                Role::Stock => self.stock(at, line)?,
                Role::LeftOver => self.left_over(at, line)?,
            }
        }
        self.keep_rows(at);
        Ok(())
    }

    /// Hands the rows gathered of a list to their items.
    fn keep_rows(&mut self, list: usize) {
        let role = self.lists[list].role;
        let items = &mut self.of.items;
        let of_lines = self.rows.iter();
        // Sorted by item first: going from item to item line by line would leave the processor's cache at
        // every step.
        let of_items = Grouped::by(
            items.len(),
            of_lines.map(|&(id, sheet, row)| (id as usize, (sheet, row))),
        );
        self.rows.clear();
        items.par_iter_mut().enumerate().for_each(|(at, item)| {
            let own = of_items.of(at).iter();
            if own.len() == 0 {
                return;
            }
            let evidence = match role {
                Role::Required => &mut item.required_by,
                Role::Shipped => &mut item.shipped_by,
                Role::Counted => &mut item.counted_by,
                Role::Compared => return,
                Role::Stock => &mut item.stocked_by,
                Role::LeftOver => &mut item.left_by,
            };
            let rows = own
                .map(|&(sheet, row)| Run::row(list, sheet, row))
                .collect();
            *evidence = Rows::together([&*evidence, &rows]);
        });
    }

    fn required(&mut self, at: LineRef, line: &Line, place: Place, stages: &Stages) -> Result<()> {
        if !place.chosen {
            if let What::Item(reading) = line.what {
                let id = self.ids[at.list][reading as usize];
                self.of.items[id as usize].not_chosen = true;
            }
            self.of.not_chosen.push(at);
            return Ok(());
        }
        let reading = match &line.what {
            What::Item(reading) => *reading,
            What::Bag { .. } => return Ok(()),
            What::Aside(_) => {
                unread_line(&mut self.aside, place.stage, at);
                return Ok(());
            }
        };
        let id = self.ids[at.list][reading as usize];
        let as_required = line.quantity.is_none() && line.doubts().contains(&Doubt::AsRequired);
        let makes_demand = !as_required
            && matches!(
                place.usage,
                Usage::New | Usage::ComesFitted | Usage::Returned | Usage::Discarded
            );
        if !makes_demand {
            self.of.no_demand.push(at);
        }
        let quantity = match line.quantity {
            Some(quantity) => self.pieces(at, quantity, u64::from(line.places), self.kits)?,
            None => {
                if makes_demand {
                    unread_line(&mut self.unread, place.stage, at);
                }
                0
            }
        };
        let along = self.lists[at.list].readings[reading as usize].comes_with;
        self.of.items[id as usize].asked_apart |= !along;
        let first_stage = &mut self.of.items[id as usize].first_stage;
        *first_stage = (*first_stage).min(place.stage);
        if !matches!(place.usage, Usage::CarriedOver | Usage::Reference) {
            self.rows.push((id, line.sheet, line.row));
        }
        if place.stage == NO_STAGE {
            return Ok(());
        }
        let need = self.needs.entry((id, place.stage as u32)).or_default();
        match place.usage {
            Usage::New if as_required => {}
            Usage::New => {
                need.new += quantity;
                if self.lists[at.list].sheets[usize::from(line.sheet)].may_be_again {
                    *self.asked_twice.entry(id).or_default() += quantity;
                }
                let first = need.asked_by(at);
                if first.list != at.list && !self.adds {
                    return Err(stages.listed_twice(self.lists, first, at, place.stage));
                }
                if place.container != 0 {
                    let key = (id, place.container, place.stage as u32);
                    self.bagged.push((key, quantity));
                }
                if let Some(rows) = place.missing.and_then(|bag| self.missing.get_mut(&bag)) {
                    rows.push(Run::row(at.list, line.sheet, line.row));
                }
            }
            Usage::ComesFitted => {
                need.others_mut().fitted += quantity;
                self.of.fitted.push((id, at));
            }
            Usage::Returned => need.others_mut().returned += quantity,
            Usage::Discarded => need.others_mut().discarded += quantity,
            Usage::NotInKit | Usage::Consumable => need.others_mut().to_bring += quantity,
            Usage::CarriedOver | Usage::Reference => {}
        }
        Ok(())
    }

    fn slip(&mut self, at: LineRef, line: &Line, place: Place) -> Result<()> {
        if let Some(rows) = place.missing.and_then(|bag| self.missing.get_mut(&bag)) {
            rows.push(Run::row(at.list, line.sheet, line.row));
        }
        let reading = match &line.what {
            What::Item(reading) => *reading,
            What::Bag { .. } => {
                match line.quantity {
                    Some(bags) => self.slip_bags.push((at, place.container, bags)),
                    None => unread_line(&mut self.unsure, at.list, at),
                }
                return Ok(());
            }
            What::Aside(aside) => {
                for id in self.aside(at, *aside) {
                    self.shipped.entry((id, place.container)).or_default();
                }
                return Ok(());
            }
        };
        let id = self.ids[at.list][reading as usize];
        // `Cap, 0, to follow`.
        let to_follow = line.quantity.unwrap_or(0) == 0
            && (line.doubts().iter())
                .any(|doubt| matches!(doubt, Doubt::Remark(said) if remark::follows(said)));
        let pieces = match line.quantity {
            Some(quantity) => self.pieces(at, quantity, u64::from(line.places), 1)?,
            None if to_follow => 0,
            None => {
                // A credit takes back, so that there are no more for it.
                match line.doubts() {
                    [Doubt::Credit(_), ..] => unread_line(&mut self.unsure, at.list, at),
                    _ => {
                        self.figure_unread(id, at);
                        self.obscure(at);
                    }
                }
                0
            }
        };
        self.note_figures_over(id, at, line);
        let back_ordered = self.pieces(at, line.back_ordered(), 1, 1)?;
        self.pack(id, line, Role::Shipped);
        self.rows.push((id, line.sheet, line.row));
        let shipped = self.shipped.entry((id, place.container)).or_default();
        shipped.pieces += pieces;
        shipped.back_ordered += back_ordered;
        shipped.to_follow |= to_follow;
        Ok(())
    }

    fn pack(&mut self, id: u32, line: &Line, role: Role) {
        if let Some(pieces) = line.pack() {
            // The later role is the shop's.
            let rank = |(role, pieces): (Role, u64)| (std::cmp::Reverse(role), pieces);
            let known = self.packs.entry(id).or_insert((role, pieces));
            if rank((role, pieces)) < rank(*known) {
                *known = (role, pieces);
            }
        }
    }

    /// The item and pieces of a line on a list that only counts what is there; `None` for one that is
    /// not summed.
    fn there(&mut self, at: LineRef, line: &Line) -> Result<Option<(u32, u64)>> {
        let (reading, quantity) = match (&line.what, line.quantity) {
            (What::Item(reading), Some(quantity)) => (*reading, quantity),
            (What::Bag { .. }, _) => return Ok(None),
            (What::Item(_), None)
                if line.doubts().is_empty() && self.lists[at.list].role == Role::LeftOver =>
            {
                return Ok(None);
            }
            (What::Item(_), None) | (What::Aside(_), _) => {
                unread_line(&mut self.unsure, at.list, at);
                return Ok(None);
            }
        };
        let id = self.ids[at.list][reading as usize];
        let pieces = self.pieces(at, quantity, u64::from(line.places), 1)?;
        self.rows.push((id, line.sheet, line.row));
        Ok(Some((id, pieces)))
    }

    fn left_over(&mut self, at: LineRef, line: &Line) -> Result<()> {
        if let Some((id, pieces)) = self.there(at, line)? {
            *self.left_over.entry(id).or_default() += pieces;
        }
        Ok(())
    }

    fn stock(&mut self, at: LineRef, line: &Line) -> Result<()> {
        let Some((id, pieces)) = self.there(at, line)? else {
            return Ok(());
        };
        let list = &self.lists[at.list];
        self.pack(id, line, Role::Stock);
        let placement = list.placement_of(line);
        let stocked = self.stocked.entry(id).or_default();
        stocked.pieces += pieces;
        if let (Some(bin), 1..) = (placement.bin.as_ref().or(placement.place.as_ref()), pieces) {
            stocked.bins.insert(bin.clone());
        }
        Ok(())
    }

    pub fn finish(mut self) -> Inventory {
        fn sorted<K: Ord, V>(map: FxHashMap<K, V>) -> Vec<(K, V)> {
            let mut all: Vec<(K, V)> = map.into_iter().collect();
            all.sort_by(|a, b| a.0.cmp(&b.0));
            all
        }
        let mut of = self.of;
        of.asked_twice = sorted(self.asked_twice);
        let counts = sorted(self.counts);
        let again = counted_again(&counts, &mut self.counted, &self.containers);
        let twice = counts.into_iter();
        // That nothing is there is said once or twice alike.
        let twice = twice
            .filter(|(_, counts)| counts.len() > 1 && counts.iter().any(|(_, good)| *good > 0));
        let twice = twice.map(|((item, _), counts)| CountedTwice { item, counts });
        of.counted_twice = again.into_iter().chain(twice).collect();
        of.counted_twice.sort_by_key(|twice| twice.item);
        of.ids = self.ids;
        of.blank.sort_unstable();
        of.blank.dedup();
        of.containers = self.containers;
        of.needs = together(self.plain.needs, sorted(self.needs), Need::add);
        of.shipped = together(self.plain.shipped, sorted(self.shipped), Shipped::add);
        of.counted = sorted(self.counted);
        of.stocked = sorted(self.stocked);
        of.left_over = sorted(self.left_over);
        of.packs = sorted(self.packs);
        of.bagged = self.bagged;
        let missing = sorted(self.missing).into_iter();
        of.not_received = missing
            .map(|(bag, rows)| (bag, Rows::from_iter(rows)))
            .collect();
        of.unread = sorted(self.unread);
        of.aside = sorted(self.aside);
        of.unsure = sorted(self.unsure);
        of.figures_unread.sort_unstable();
        let counts = |line: &Line| line.quantity.is_some() || matches!(line.what, What::Bag { .. });
        let lists = self.lists.iter();
        let is_counted: Vec<bool> = lists.map(|list| list.lines.iter().any(counts)).collect();
        let unread = of.figures_unread.iter();
        let unread = unread.filter(|of| !of.by_count && !is_counted[of.at.list]);
        // Nor is what a slip lists known where none of its lines names an item.
        let aside = of.unsure.iter().flat_map(|(at, _)| {
            let list = &self.lists[*at];
            let names = |line: &Line| !matches!(line.what, What::Aside(_));
            let none = list.role == Role::Shipped && !list.lines.iter().any(names);
            let rows = list.lines.iter().filter(move |_| none);
            rows.map(|line| Run::row(*at, line.sheet, line.row))
        });
        of.slips_unread = unread.map(|of| of.run).chain(aside).collect();
        of
    }
}

/// Sums of two kinds of lines, each in order, as one.
fn together<K: Ord, V: Default>(
    mut sums: Vec<(K, V)>,
    mut others: Vec<(K, V)>,
    add: impl Fn(&mut V, V),
) -> Vec<(K, V)> {
    if !others.is_empty() {
        sums.append(&mut others);
        sums.sort_by(|a, b| a.0.cmp(&b.0));
        sums.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                add(&mut kept.1, std::mem::take(&mut next.1));
            }
            same
        });
    }
    sums.shrink_to_fit();
    sums
}
