//! Joints: the lines of one stage, place and diameter, which hold one connection together.

use crate::words::fold;
use std::collections::hash_map::Entry;

use indexmap::{IndexMap, IndexSet};
use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::{
    grouped::Grouped,
    hardware::{Diameter, Item, Kind, Style},
    kit::{Job, List, Placement, Role, Usage, What},
    settle::Evidence,
};

/// What a piece is to its joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duty {
    /// Holds the joint: bolt, screw, rod, anchor.
    Fastener,
    /// Closes it.
    Nut,
    /// A jam nut, beside another nut or for levelling; a nut that is part of a piece.
    OtherNut,
    /// A flat washer.
    Washer,
    LockWasher,
    /// Of a size, but not known as one of these: it makes every count open.
    Unknown,
}

impl Duty {
    /// `None` for what is no part of a joint: parts, pins, rivets, and washers that serve as spacers
    /// or bear on slots and timber (common practice, no source).
    fn of(item: &Item) -> Option<Duty> {
        Some(match (item.kind, item.style) {
            (None, _) => Duty::Unknown,
            (Some(Kind::Bolt | Kind::Screw | Kind::Rod | Kind::Anchor), _) => Duty::Fastener,
            (
                Some(Kind::Nut),
                Some(
                    Style::Jam
                    | Style::HeavyHexJam
                    | Style::Weld
                    | Style::Barrel
                    | Style::Insert
                    | Style::Coupling
                    | Style::T
                    | Style::Thumb,
                ),
            ) => Duty::OtherNut,
            (Some(Kind::Nut), _) => Duty::Nut,
            (Some(Kind::Washer), None | Some(Style::Flat | Style::Sae | Style::Uss)) => {
                Duty::Washer
            }
            (
                Some(Kind::Washer),
                Some(Style::SplitLock | Style::ExternalTooth | Style::InternalTooth),
            ) => Duty::LockWasher,
            _ => return None,
        })
    }
}

/// Lines of a joint that say the same of the same item.
#[derive(Debug, Clone)]
pub struct Member<'a> {
    pub duty: Duty,
    pub item: &'a Item,
    pub placement: &'a Placement,
    /// Of one kit, all places; `None` where a line states none.
    pub pieces: Option<u64>,
    rows: Rows,
}

/// Where the lines of a member stand, runs of rows folded. There may be a member a line, and of most
/// there is one row.
#[derive(Debug, Clone)]
struct Rows {
    list: u32,
    sheet: u16,
    first: (u32, u32),
    more: Vec<(u32, u32)>,
}

impl Rows {
    fn push(&mut self, row: u32) {
        let (_, last) = self.more.last_mut().unwrap_or(&mut self.first);
        match *last + 1 == row {
            true => *last = row,
            false => self.more.push((row, row)),
        }
    }
}

impl Member<'_> {
    /// True for pieces that an earlier stage brought.
    pub fn is_carried_over(&self) -> bool {
        self.placement.usage == Some(Usage::CarriedOver)
    }
}

/// The lines of one connection.
#[derive(Debug, Clone)]
pub struct Joint<'a> {
    /// As first named; empty where no line names one.
    pub stage: &'a str,
    pub diameter: Diameter,
    pub members: Vec<Member<'a>>,
}

impl<'a> Joint<'a> {
    pub fn with(&self, duty: Duty) -> impl Iterator<Item = &Member<'a>> {
        self.members.iter().filter(move |m| m.duty == duty)
    }

    pub fn has(&self, duty: Duty) -> bool {
        self.with(duty).next().is_some()
    }

    /// The place that all of its lines name; empty where they name several or none.
    pub fn place(&self) -> &'a str {
        let place = |member: &Member<'a>| member.placement.place.as_deref().unwrap_or("");
        let first = self.members.first().map_or("", place);
        match self.members.iter().all(|m| place(m) == first) {
            true => first,
            false => "",
        }
    }

    /// The torque called for a fastener, as written: its own line's, or that of a nut of the joint.
    pub fn torque_called(&self, member: &Member<'a>) -> Option<&'a str> {
        self.told(member, |placement| placement.torque.as_deref())
    }

    /// When a fastener is tightened among the others, as written: as its own line says, or that of a
    /// nut of the joint.
    pub fn sequence(&self, member: &Member<'a>) -> Option<&'a str> {
        self.told(member, |placement| placement.sequence.as_deref())
    }

    fn told(
        &self,
        member: &Member<'a>,
        says: impl Fn(&'a Placement) -> Option<&'a str>,
    ) -> Option<&'a str> {
        let nuts = || self.with(Duty::Nut).find_map(|nut| says(nut.placement));
        says(member.placement).or_else(nuts)
    }

    /// The rows of all members.
    pub fn evidence(&self) -> Vec<Evidence> {
        gather(&self.members)
    }
}

/// The rows of several members, one entry a sheet.
pub fn gather<'m, 'a: 'm>(members: impl IntoIterator<Item = &'m Member<'a>>) -> Vec<Evidence> {
    type Runs = Vec<(u32, u32)>;
    // Nearly all are of one sheet, and there may be a question a line.
    let mut sheets: Vec<((usize, usize), Runs)> = Vec::with_capacity(1);
    for Member { rows: own, .. } in members {
        let place = (own.list as usize, usize::from(own.sheet));
        let known = sheets.iter().position(|(of, _)| *of == place);
        let at = known.unwrap_or(sheets.len());
        if known.is_none() {
            sheets.push((place, Vec::with_capacity(1 + own.more.len())));
        }
        let (_, rows) = &mut sheets[at];
        rows.push(own.first);
        rows.extend(&own.more);
    }
    let evidence = |((list, sheet), mut rows): ((usize, usize), Runs)| {
        rows.sort_unstable();
        rows.dedup();
        let rows = rows.into();
        Evidence { list, sheet, rows }
    };
    sheets.into_iter().map(evidence).collect()
}

/// The lines of the required lists, apart by stage and diameter: what may hold together at all. Lines of
/// options that are not built, and pieces that only come off, are left out.
pub struct Sizes<'a> {
    lists: &'a [List],
    /// Beside the lists: the stage and place of each placement, by number, where its lines are there.
    places: Vec<Vec<Option<(u32, u32)>>>,
    /// By number, as first named.
    stages: FxHashMap<u32, &'a str>,
    /// In order of first naming.
    sizes: Vec<(u32, Diameter)>,
    /// By size: list and line, in order.
    lines: Grouped<(u32, u32)>,
}

impl<'a> Sizes<'a> {
    pub fn of(job: &Job, lists: &'a [List]) -> Sizes<'a> {
        let mut names: FxHashMap<String, u32> = FxHashMap::default();
        // Numbers stand for diameters, of which there is one a line and few in all.
        let mut diameters: IndexSet<Diameter, FxBuildHasher> = IndexSet::default();
        let mut numbers: FxHashMap<(u32, u32), u32> = FxHashMap::default();
        let mut of = Sizes {
            lists,
            places: Vec::with_capacity(lists.len()),
            stages: FxHashMap::default(),
            sizes: Vec::new(),
            lines: Grouped::by(0, std::iter::empty()),
        };
        // By list and line: the number of its size.
        let mut sized: Vec<Vec<Option<u32>>> = Vec::with_capacity(lists.len());
        for list in lists {
            if list.role != Role::Required {
                of.places.push(Vec::new());
                sized.push(Vec::new());
                continue;
            }
            let places = places(job, list, &mut names);
            let of_readings = list.readings.iter().map(|reading| {
                let diameter = reading.item.diameter?;
                Duty::of(&reading.item)?;
                Some(diameters.insert_full(diameter).0 as u32)
            });
            let of_readings: Vec<Option<u32>> = of_readings.collect();
            let sizes = list.lines.iter().map(|line| {
                let What::Item(reading) = line.what else {
                    return None;
                };
                let diameter = of_readings[reading as usize]?;
                let (stage, _) = places[line.placement as usize]?;
                let size = *numbers.entry((stage, diameter)).or_insert_with(|| {
                    let name = list.placement_of(line).stage.as_deref();
                    let name = name.unwrap_or("").trim();
                    of.stages.entry(stage).or_insert(name);
                    of.sizes.push((stage, diameters[diameter as usize]));
                    of.sizes.len() as u32 - 1
                });
                Some(size)
            });
            sized.push(sizes.collect());
            of.places.push(places);
        }
        let lines = sized.iter().zip(0..).flat_map(|(sizes, list)| {
            let lines = sizes.iter().zip(0..);
            lines.filter_map(move |(size, line)| Some(((*size)? as usize, (list, line))))
        });
        of.lines = Grouped::by(of.sizes.len(), lines);
        of
    }

    /// Sizes by number, in order of first naming, each with the number of its stage.
    pub fn each(&self) -> impl Iterator<Item = (usize, u32)> {
        let sizes = self.sizes.iter().enumerate();
        sizes.map(|(size, (stage, _))| (size, *stage))
    }

    /// The joints of a size in order of first naming; `None` where they have more members than `most`.
    /// Where a place has bolts and no nuts, or nuts and no bolts, and another place of the stage has the
    /// other half, these are one joint ("all rails").
    pub fn joints(&self, size: usize, most: usize) -> Option<Vec<Joint<'a>>> {
        let (stage, diameter) = self.sizes[size];
        // By place.
        let mut joints: IndexMap<u32, Joint<'a>, FxBuildHasher> = IndexMap::default();
        // Lines that say the same of the same item are one member: its joint, and its place in that.
        let mut members: FxHashMap<(u32, u32, u32, u16), (usize, usize)> = FxHashMap::default();
        for &(at, line) in self.lines.of(size) {
            let list = &self.lists[at as usize];
            let line = &list.lines[line as usize];
            let (Some(reading), Some((_, place))) = (
                list.reading_of(line),
                self.places[at as usize][line.placement as usize],
            ) else {
                continue;
            };
            let What::Item(number) = line.what else {
                continue;
            };
            let pieces = line
                .quantity
                .and_then(|each| each.checked_mul(u64::from(line.places)));
            match members.entry((at, line.placement, number, line.sheet)) {
                Entry::Occupied(known) => {
                    let &(joint, index) = known.get();
                    let member = &mut joints[joint].members[index];
                    member.pieces = member
                        .pieces
                        .zip(pieces)
                        .and_then(|(a, b)| a.checked_add(b));
                    member.rows.push(line.row);
                }
                Entry::Vacant(new) => {
                    let Some(duty) = Duty::of(&reading.item) else {
                        continue;
                    };
                    let joint = joints.entry(place);
                    let number = joint.index();
                    let joint = joint.or_insert_with(|| Joint {
                        stage: self.stages[&stage],
                        diameter,
                        members: Vec::new(),
                    });
                    new.insert((number, joint.members.len()));
                    joint.members.push(Member {
                        duty,
                        item: &reading.item,
                        placement: list.placement_of(line),
                        pieces,
                        rows: Rows {
                            list: at,
                            sheet: line.sheet,
                            first: (line.row, line.row),
                            more: Vec::new(),
                        },
                    });
                    if members.len() > most {
                        return None;
                    }
                }
            }
        }
        Some(halves_together(joints.into_values().collect()))
    }
}

/// Stage and place of a list's placements, by number; `None` for lines that are not there.
fn places(job: &Job, list: &List, names: &mut FxHashMap<String, u32>) -> Vec<Option<(u32, u32)>> {
    let mut number = |name: Option<&str>| {
        let next = names.len() as u32;
        *names.entry(fold(name.unwrap_or(""))).or_insert(next)
    };
    let places = list.placements.iter().map(|p| {
        let built = p.option.as_ref().is_none_or(|rule| rule.holds(&job.with));
        let there = !matches!(
            p.usage,
            Some(Usage::Returned | Usage::Discarded | Usage::Consumable | Usage::Reference)
        );
        (built && there).then(|| (number(p.stage.as_deref()), number(p.place.as_deref())))
    });
    places.collect()
}

/// All joints of the required lists, those of one stage and diameter together.
pub fn joints<'a>(job: &Job, lists: &'a [List]) -> Vec<Joint<'a>> {
    let sizes = Sizes::of(job, lists);
    let joints = sizes
        .each()
        .filter_map(|(size, _)| sizes.joints(size, usize::MAX));
    joints.flatten().collect()
}

/// Joins the halves among the joints of one stage and diameter.
fn halves_together(joints: Vec<Joint<'_>>) -> Vec<Joint<'_>> {
    let headless = |joint: &Joint<'_>| !joint.has(Duty::Fastener) && !joint.has(Duty::Unknown);
    let offered = |duty| {
        joints
            .iter()
            .any(|joint| headless(joint) && joint.has(duty))
    };
    let (nuts, washers) = (offered(Duty::Nut), offered(Duty::Washer));
    let half = |joint: &Joint<'_>| {
        let wants_nut = joint
            .with(Duty::Fastener)
            .any(|m| !m.is_carried_over() && takes_nut(m.item));
        headless(joint)
            || nuts && wants_nut && !joint.has(Duty::Nut)
            || washers && !joint.has(Duty::Washer)
    };
    if !nuts && !washers || !joints.iter().any(|joint| half(joint) && !headless(joint)) {
        return joints;
    }
    let halves: Vec<bool> = joints.iter().map(half).collect();
    let mut together: Vec<Joint<'_>> = Vec::with_capacity(joints.len());
    let mut whole: Option<usize> = None;
    for (joint, half) in joints.into_iter().zip(halves) {
        match whole {
            Some(at) if half => together[at].members.extend(joint.members),
            _ => {
                if half {
                    whole = Some(together.len());
                }
                together.push(joint);
            }
        }
    }
    together
}

/// True for a fastener that a nut can close.
pub fn takes_nut(item: &Item) -> bool {
    match item.kind {
        Some(Kind::Bolt | Kind::Rod | Kind::Anchor) => true,
        Some(Kind::Screw) => !matches!(
            item.style,
            Some(
                Style::Wood
                    | Style::Lag
                    | Style::Set
                    | Style::SelfDrilling
                    | Style::SheetMetal
                    | Style::Deck
                    | Style::Thumb
                    | Style::Bugle
            )
        ),
        _ => false,
    }
}
