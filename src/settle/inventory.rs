//! The inventory: every list's lines summed by item, stage and bag, with the rows they rest on.

use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::{
    account::{Evidence, LineRef},
    numbers::{Meant, Numbers},
    options::Chosen,
    parcels::{Parcels, Scope},
    stages::Stages,
};
use crate::{
    Result,
    doubt::Doubt,
    error::{At, Error},
    hardware::{Item, Kind, PartName},
    kit::{Job, Line, List, Role, Usage, What, job::SecondList},
};

/// Most pieces in all lists of one role together, kits included: the largest count that a
/// spreadsheet holds exactly (2^53, IEEE 754), and small enough that no sum of such sums overflows.
pub const MOST_PIECES: u64 = 1 << 53;

/// For a line that belongs to no stage that is built.
const NO_STAGE: usize = u32::MAX as usize;

/// An item as the lists state it, and what is known about it apart from sums.
#[derive(Debug)]
pub struct Stated {
    /// What makes it this item and no other: the thread that it has where none is stated, and of a
    /// part its number alone where it has one.
    pub identity: Item,
    /// To be shown: a part with its description, the required list's before another's.
    pub shown: Item,
    /// Maker's numbers, in order.
    pub numbers: Vec<Box<str>>,
    pub doubts: Vec<Doubt>,
    /// A line of an option that was not chosen asks for it.
    pub not_chosen: bool,
    /// First stage of a required line, or `usize::MAX`.
    pub first_stage: usize,
    /// Where the first line stands: role, list, line.
    pub first_line: (Role, usize, usize),
    pub required_by: Vec<Evidence>,
    pub shipped_by: Vec<Evidence>,
    pub counted_by: Vec<Evidence>,
    pub stocked_by: Vec<Evidence>,
    pub left_by: Vec<Evidence>,
}

impl Stated {
    /// The words for a part.
    pub fn description(&self) -> Option<&str> {
        self.shown.part.as_ref()?.description.as_deref()
    }
}

/// What one kit needs of one item in one stage.
#[derive(Debug, Clone, Copy, Default)]
pub struct Need {
    /// New pieces.
    pub new: u64,
    /// Pieces that arrive on another part.
    pub fitted: u64,
    pub returned: u64,
    pub discarded: u64,
    pub to_bring: u64,
    /// The first line that asks for new pieces.
    pub first: Option<LineRef>,
}

/// What the slips list of one item in one bag.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shipped {
    pub pieces: u64,
    pub back_ordered: u64,
}

/// What was counted of one item in one bag.
#[derive(Debug, Clone, Copy, Default)]
pub struct Counted {
    /// `None`: not counted.
    pub good: Option<u64>,
    pub damaged: u64,
    /// Looked for on another part, not in a bag.
    pub fitted: bool,
}

/// What the shop has of one item.
#[derive(Debug, Clone, Default)]
pub struct Stocked {
    pub pieces: u64,
    /// Where it keeps them, in the order of its list.
    pub bins: Vec<Box<str>>,
}

/// What cannot be summed, one kind in one stage or list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unread {
    pub lines: u64,
    pub first: LineRef,
}

/// A bag, a box, or a bag in a box.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Container {
    /// Compared without case and without the words for bag and box.
    bag: Option<Box<str>>,
    carton: Option<Box<str>>,
    /// The parcels that it came in, or that a count looked at.
    pub parcels: Scope,
    /// As first named: the bag, else the box.
    pub name: Box<str>,
}

impl Container {
    fn of(bag: Option<&str>, carton: Option<&str>, parcels: Scope) -> Container {
        Container {
            parcels,
            bag: bag.map(container_key),
            carton: carton.map(container_key),
            name: bag.or(carton).unwrap_or_default().into(),
        }
    }

    /// The name with the word for what it is, at the start of a sentence: `Bag H`.
    pub fn spoken(&self) -> String {
        self.with_noun(["Bag", "Box"])
    }

    /// The same within a sentence: `bag H`.
    pub fn called(&self) -> String {
        self.with_noun(["bag", "box"])
    }

    fn with_noun(&self, [bag, carton]: [&str; 2]) -> String {
        let noun = if self.bag.is_some() { bag } else { carton };
        match self.name.chars().all(|c| c.is_alphanumeric()) && self.name.len() < 4 {
            true => format!("{noun} {}", self.name),
            false => self.name.to_string(),
        }
    }

    /// The same for one bag, whichever box it is in; `None` for loose pieces.
    pub fn key(&self) -> Option<String> {
        match (&self.bag, &self.carton) {
            (Some(bag), _) => Some(format!("bag {bag}")),
            (None, carton) => carton.as_ref().map(|carton| format!("box {carton}")),
        }
    }

    /// True for pieces that are in no named bag or box.
    pub fn is_loose(&self) -> bool {
        self.bag.is_none() && self.carton.is_none()
    }

    /// True where what is said of `self` is said of `other`, too: the same bag, or the box it is in.
    pub fn holds(&self, other: &Container) -> bool {
        self.parcels.meets(other.parcels) && self.has_name_of(other)
    }

    fn has_name_of(&self, other: &Container) -> bool {
        match (&self.bag, &other.bag) {
            (Some(a), Some(b)) => a == b,
            (Some(_), None) => false,
            (None, _) => self.carton.is_some() && self.carton == other.carton,
        }
    }
}

/// The form in which names of bags and boxes are compared.
fn container_key(name: &str) -> Box<str> {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || matches!(c, '#' | '.' | ':'))
        .filter(|word| !word.is_empty())
        .collect();
    let telling: Vec<&str> = words
        .iter()
        .copied()
        .filter(|word| {
            !matches!(
                *word,
                "bag" | "box" | "carton" | "crate" | "hardware" | "no" | "number"
            )
        })
        .collect();
    if telling.is_empty() { words } else { telling }
        .join(" ")
        .into()
}

/// Every list's lines, summed.
pub struct Inventory {
    /// Item ids of each list's readings.
    pub ids: Vec<Vec<u32>>,
    /// In order of identity, so that no order of rows or lists shows.
    pub items: Vec<Stated>,
    pub containers: Vec<Container>,
    /// By item and stage, of one kit, in order.
    pub needs: Vec<((u32, u32), Need)>,
    /// By item and container, in order.
    pub shipped: Vec<((u32, u32), Shipped)>,
    /// By item and container, in order.
    pub counted: Vec<((u32, u32), Counted)>,
    /// By item, in order.
    pub stocked: Vec<(u32, Stocked)>,
    /// Pieces left when the build is done, by item, in order.
    pub left_over: Vec<(u32, u64)>,
    /// Pieces in one pack, by item: the shop's before the slip's, the least of several.
    pub packs: Vec<(u32, (Role, u64))>,
    /// Item and container of lines of a count that were left blank, in order.
    pub blank: Vec<(u32, u32)>,
    /// What the required lists put in bags: item, container and stage, pieces of one kit.
    pub bagged: Vec<((u32, u32, u32), u64)>,
    /// Containers that a count sheet says did not arrive, with the slip's or parts list's rows.
    pub not_received: Vec<(u32, Vec<Evidence>)>,
    /// Bags on a slip that no required list fills.
    pub unopened: Vec<LineRef>,
    pub not_chosen: Vec<LineRef>,
    pub no_demand: Vec<LineRef>,
    /// Lines of pieces that come fitted, with their items.
    pub fitted: Vec<(u32, LineRef)>,
    /// Required lines without a quantity, by stage.
    pub unread: Vec<(usize, Unread)>,
    /// Required lines aside, by stage.
    pub aside: Vec<(usize, Unread)>,
    /// Pieces came in one parcel, or in several.
    pub several_parcels: bool,
    /// Lines of slips and counts that are aside or not summed, by list.
    pub unsure: Vec<(usize, Unread)>,
}

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

/// Where a line stands.
pub fn address(lists: &[List], at: LineRef) -> At {
    let list = &lists[at.list];
    let line = &list.lines[at.line];
    let sheet = list.sheets.get(usize::from(line.sheet));
    At {
        sheet: sheet.and_then(|sheet| sheet.name.clone()),
        row: Some(line.row),
        ..At::file(&list.file)
    }
}

/// The error for a sum that no kit can reach.
fn too_many(lists: &[List], at: LineRef) -> Error {
    Error::input(
        address(lists, at),
        format!("with this row the list comes to more than {MOST_PIECES} pieces"),
        "check the quantity, the places and the number of kits",
    )
}

/// Counts one more line that cannot be summed.
fn unread_line(of: &mut FxHashMap<usize, Unread>, key: usize, at: LineRef) {
    of.entry(key)
        .and_modify(|unread| unread.lines += 1)
        .or_insert(Unread {
            lines: 1,
            first: at,
        });
}

impl Inventory {
    /// Sums the lists that were there when the parcel `through` had come.
    ///
    /// # Errors
    /// Sums beyond [`MOST_PIECES`], naming the row.
    pub fn take(
        job: &Job,
        lists: &[List],
        stages: &Stages,
        chosen: &Chosen,
        parcels: &Parcels,
        through: u32,
    ) -> Result<Inventory> {
        let (items, ids) = state_items(lists);
        let lines = |role| -> usize {
            let of_role = lists.iter().filter(|list| list.role == role);
            of_role.map(|list| list.lines.len()).sum()
        };
        let most_needs = lines(Role::Required).min(items.len() * stages.len());
        let mut taking = Taking {
            kits: job.kits,
            lists,
            parcels,
            brought: FxHashMap::default(),
            ids,
            adds: job.second_list == SecondList::Adds,
            totals: [0; Role::ALL.len()],
            first_stages: vec![usize::MAX; items.len()],
            rows: Vec::new(),
            containers: vec![Container::default()],
            container_ids: FxHashMap::default(),
            needs: FxHashMap::with_capacity_and_hasher(most_needs, FxBuildHasher),
            shipped: FxHashMap::default(),
            counted: FxHashMap::default(),
            stocked: FxHashMap::default(),
            left_over: FxHashMap::default(),
            packs: FxHashMap::default(),
            bagged: FxHashMap::default(),
            slip_bags: Vec::new(),
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
                unsure: Vec::new(),
            },
        };
        if parcels.number > 1 {
            taking.note_what_came();
        }
        // Counts first, for they say which bags did not arrive; then what the bags hold.
        for role in [
            Role::Counted,
            Role::Required,
            Role::Shipped,
            Role::Stock,
            Role::LeftOver,
        ] {
            for (at, list) in lists.iter().enumerate() {
                if list.role == role && parcels.had_come(lists, at, through) {
                    taking.take(at, stages, chosen)?;
                }
            }
        }
        taking.open_bags()?;
        Ok(taking.finish())
    }
}

/// Items by identity, each with all that the readings say of it; and the id of each list's readings.
pub fn state_items(lists: &[List]) -> (Vec<Stated>, Vec<Vec<u32>>) {
    let mut numbers = Numbers::default();
    // A shop has numbers of its own, which are not the maker's.
    for list in lists
        .iter()
        .filter(|list| !matches!(list.role, Role::Stock | Role::LeftOver))
    {
        let required = list.role == Role::Required;
        for reading in &list.readings {
            match (&reading.item.part, &reading.part_number) {
                (Some(part), own) => {
                    if let (true, Some(number)) = (required, part.number.as_ref().or(own.as_ref()))
                    {
                        numbers.teach_part(number);
                    }
                }
                (None, Some(number)) => numbers.teach(number, &identity(&reading.item), required),
                (None, None) => {}
            }
        }
    }
    numbers.sort();

    let mut found: FxHashMap<Item, Stated> = FxHashMap::default();
    let mut of_readings: Vec<Vec<Item>> = Vec::new();
    for list in lists {
        let mut identities = Vec::with_capacity(list.readings.len());
        for reading in &list.readings {
            let number = match &reading.item.part {
                Some(part) => part.number.as_ref().or(reading.part_number.as_ref()),
                None => reading.part_number.as_ref(),
            };
            let (identity, doubt) = match (&reading.item.part, number) {
                (Some(_), Some(number)) => match numbers.meant(number) {
                    (Meant::Hardware(item), doubt) => (item, doubt),
                    (Meant::Part(number), doubt) => (part(number), doubt),
                },
                (None, Some(number)) if numbers.is_ambiguous(number) => (
                    identity(&reading.item),
                    Some(Doubt::NumberNotUnique(number.clone())),
                ),
                _ => (identity(&reading.item), None),
            };
            let shown = if identity.part.is_some() {
                let mut shown = reading.item.clone();
                if let (Some(shown), Some(own)) = (&mut shown.part, &identity.part) {
                    shown.number = own.number.clone();
                }
                shown
            } else {
                identity.clone()
            };
            let stated = found.entry(identity.clone()).or_insert_with(|| Stated {
                identity: identity.clone(),
                shown: shown.clone(),
                numbers: Vec::new(),
                doubts: Vec::new(),
                not_chosen: false,
                first_stage: usize::MAX,
                first_line: (Role::Counted, usize::MAX, usize::MAX),
                required_by: Vec::new(),
                shipped_by: Vec::new(),
                counted_by: Vec::new(),
                stocked_by: Vec::new(),
                left_by: Vec::new(),
            });
            let rank = |item: &Item| {
                let silent = |part: &PartName| part.description.is_none();
                (item.part.as_deref().is_some_and(silent), item.clone())
            };
            if list.role == Role::Required && rank(&shown) < rank(&stated.shown) {
                stated.shown = shown;
            }
            let makers = !matches!(list.role, Role::Stock | Role::LeftOver);
            if let (Some(number), true) = (number, makers) {
                let number = match &doubt {
                    Some(Doubt::LooseNumber { matched, .. }) => matched,
                    _ => number,
                };
                if !stated.numbers.contains(number) {
                    stated.numbers.push(number.clone());
                }
            }
            if let Some(doubt) = doubt
                && !stated.doubts.contains(&doubt)
            {
                stated.doubts.push(doubt);
            }
            identities.push(identity);
        }
        of_readings.push(identities);
    }

    let mut items: Vec<Stated> = found.into_values().collect();
    items.sort_by(|a, b| a.identity.cmp(&b.identity));
    for item in &mut items {
        item.numbers.sort();
    }
    let ids: FxHashMap<&Item, u32> = items
        .iter()
        .zip(0..)
        .map(|(item, id)| (&item.identity, id))
        .collect();
    let of_readings = of_readings
        .iter()
        .map(|of| of.iter().map(|item| ids[item]).collect())
        .collect();
    (items, of_readings)
}

/// The part of a number.
fn part(number: Box<str>) -> Item {
    Item {
        kind: Some(Kind::Part),
        part: Some(Box::new(PartName {
            number: Some(number),
            description: None,
        })),
        ..Item::default()
    }
}

/// What makes an item of hardware, or a part without a number, the same in every list.
fn identity(item: &Item) -> Item {
    Item {
        thread: item.effective_thread(),
        ..item.clone()
    }
}

/// The work of summing.
struct Taking<'a> {
    kits: u64,
    /// Required lists that name one item in one stage are added up.
    adds: bool,
    lists: &'a [List],
    parcels: &'a Parcels,
    /// Where there are several parcels: what the slips list, by parcel and item.
    brought: FxHashMap<(u32, u32), u64>,
    /// Item ids of each list's readings.
    ids: Vec<Vec<u32>>,
    /// Pieces so far, by role.
    totals: [u64; Role::ALL.len()],
    /// By item: the first stage of a required line.
    first_stages: Vec<usize>,
    /// Item, sheet and row of the lines of the list at hand that count for something.
    rows: Vec<(u32, u16, u32)>,
    containers: Vec<Container>,
    container_ids: FxHashMap<Container, u32>,
    needs: FxHashMap<(u32, u32), Need>,
    shipped: FxHashMap<(u32, u32), Shipped>,
    counted: FxHashMap<(u32, u32), Counted>,
    stocked: FxHashMap<u32, Stocked>,
    left_over: FxHashMap<u32, u64>,
    packs: FxHashMap<u32, (Role, u64)>,
    bagged: FxHashMap<(u32, u32, u32), u64>,
    /// Slip lines that are bags: the line, the bag, how many of it.
    slip_bags: Vec<(LineRef, u32, u64)>,
    /// Bags that did not arrive, with the rows that list them or their pieces.
    missing: FxHashMap<u32, Vec<Evidence>>,
    unread: FxHashMap<usize, Unread>,
    aside: FxHashMap<usize, Unread>,
    unsure: FxHashMap<usize, Unread>,
    of: Inventory,
}

impl Taking<'_> {
    /// The id of a placement's bag or box; 0 for loose pieces.
    fn container(&mut self, bag: Option<&str>, carton: Option<&str>, parcels: Scope) -> u32 {
        let container = Container::of(bag, carton, parcels);
        if container.is_loose() && parcels == Scope::ALL {
            return 0;
        }
        let key = Container {
            name: Box::default(),
            ..container.clone()
        };
        *self.container_ids.entry(key).or_insert_with(|| {
            self.containers.push(container);
            self.containers.len() as u32 - 1
        })
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

    fn note_what_came(&mut self) {
        for (at, list) in self.lists.iter().enumerate() {
            if list.role != Role::Shipped {
                continue;
            }
            let parcel = self.parcels.of_list(at).first;
            for line in &list.lines {
                if let (What::Item(reading), Some(each)) = (&line.what, line.quantity) {
                    let id = self.ids[at][*reading as usize];
                    let brought = self.brought.entry((parcel, id)).or_default();
                    *brought = brought.saturating_add(each.saturating_mul(line.places.into()));
                }
            }
        }
    }

    /// The bag in which a count looked. A count made after a later parcel speaks of the parcels since
    /// the count before it, but of an item that none of these brought, of all: it was left out then.
    fn looked_in(&mut self, at: LineRef, id: u32, line: &Line, place: Place) -> u32 {
        let scope = self.parcels.of_list(at.list);
        let list = &self.lists[at.list];
        if scope.first == 1 || list.parcel.is_some() {
            return place.container;
        }
        let brought = (scope.first..=scope.last)
            .filter_map(|parcel| self.brought.get(&(parcel, id)))
            .copied()
            .reduce(u64::saturating_add);
        let Some(brought) = brought else {
            let placement = list.placement_of(line);
            let (bag, carton) = (placement.bag.as_deref(), placement.carton.as_deref());
            return self.container(bag, carton, Scope { first: 1, ..scope });
        };
        if line.quantity.is_some_and(|counted| counted > brought) {
            let doubt = Doubt::Said(
                format!(
                    "{} counts more of it than came since the count before: was what came earlier \
                     counted again?",
                    list.file
                )
                .into(),
            );
            let doubts = &mut self.of.items[id as usize].doubts;
            if !doubts.contains(&doubt) {
                doubts.push(doubt);
            }
        }
        place.container
    }

    fn take(&mut self, at: usize, stages: &Stages, chosen: &Chosen) -> Result<()> {
        let lists = self.lists;
        let list = &lists[at];
        let places: Vec<Place> = list
            .placements
            .iter()
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
            .collect();
        let mut firsts = vec![usize::MAX; self.of.items.len()];
        for (index, line) in list.lines.iter().enumerate() {
            let place = places[line.placement as usize];
            let at = LineRef {
                list: at,
                line: index,
            };
            if let What::Item(reading) = line.what {
                let first = &mut firsts[self.ids[at.list][reading as usize] as usize];
                *first = (*first).min(index);
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
        for (item, first) in self.of.items.iter_mut().zip(firsts) {
            if first != usize::MAX {
                item.first_line = item.first_line.min((list.role, at, first));
            }
        }
        self.keep_rows(at);
        Ok(())
    }

    /// Hands the rows gathered of a list to their items. They are sorted by item first: going from
    /// item to item line by line would leave the processor's cache at every step.
    fn keep_rows(&mut self, list: usize) {
        let mut ends = vec![0; self.of.items.len()];
        for (id, ..) in &self.rows {
            ends[*id as usize] += 1;
        }
        let mut sum = 0;
        for end in &mut ends {
            // Each is the start of its item's rows, until these are put in their places.
            sum += std::mem::replace(end, sum);
        }
        let mut sorted = vec![(0, 0); self.rows.len()];
        for &(id, sheet, row) in &self.rows {
            let place = &mut ends[id as usize];
            sorted[*place] = (sheet, row);
            *place += 1;
        }
        let mut start = 0;
        for (item, end) in self.of.items.iter_mut().zip(ends) {
            let evidence = match self.lists[list].role {
                Role::Required => &mut item.required_by,
                Role::Shipped => &mut item.shipped_by,
                Role::Counted => &mut item.counted_by,
                Role::Compared => continue,
                Role::Stock => &mut item.stocked_by,
                Role::LeftOver => &mut item.left_by,
            };
            for &(sheet, row) in &sorted[start..end] {
                push_row(evidence, list, sheet, row);
            }
            start = end;
        }
        self.rows.clear();
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
        let first_stage = &mut self.first_stages[id as usize];
        *first_stage = (*first_stage).min(place.stage);
        if !matches!(place.usage, Usage::CarriedOver | Usage::Reference) {
            self.rows.push((id, line.sheet, line.row));
        }
        let need = self.needs.entry((id, place.stage as u32)).or_default();
        match place.usage {
            Usage::New if as_required => {}
            Usage::New => {
                need.new += quantity;
                let first = *need.first.get_or_insert(at);
                if first.list != at.list && !self.adds {
                    return Err(stages.listed_twice(self.lists, first, at, place.stage));
                }
                if place.container != 0 {
                    let key = (id, place.container, place.stage as u32);
                    *self.bagged.entry(key).or_default() += quantity;
                }
                if let Some(rows) = place.missing.and_then(|bag| self.missing.get_mut(&bag)) {
                    push_row(rows, at.list, line.sheet, line.row);
                }
            }
            Usage::ComesFitted => {
                need.fitted += quantity;
                self.of.fitted.push((id, at));
            }
            Usage::Returned => need.returned += quantity,
            Usage::Discarded => need.discarded += quantity,
            Usage::NotInKit | Usage::Consumable => need.to_bring += quantity,
            Usage::CarriedOver | Usage::Reference => {}
        }
        Ok(())
    }

    fn slip(&mut self, at: LineRef, line: &Line, place: Place) -> Result<()> {
        if let Some(rows) = place.missing.and_then(|bag| self.missing.get_mut(&bag)) {
            push_row(rows, at.list, line.sheet, line.row);
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
            What::Aside(_) => {
                unread_line(&mut self.unsure, at.list, at);
                return Ok(());
            }
        };
        let id = self.ids[at.list][reading as usize];
        let pieces = match line.quantity {
            Some(quantity) => self.pieces(at, quantity, u64::from(line.places), 1)?,
            None => {
                unread_line(&mut self.unsure, at.list, at);
                0
            }
        };
        let back_ordered = self.pieces(at, line.back_ordered(), 1, 1)?;
        self.pack(id, line, Role::Shipped);
        self.rows.push((id, line.sheet, line.row));
        let shipped = self.shipped.entry((id, place.container)).or_default();
        shipped.pieces += pieces;
        shipped.back_ordered += back_ordered;
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
        if let (Some(bin), 1..) = (placement.bin.as_ref().or(placement.place.as_ref()), pieces)
            && !stocked.bins.contains(bin)
        {
            stocked.bins.push(bin.clone());
        }
        Ok(())
    }

    fn count(&mut self, at: LineRef, line: &Line, place: Place) -> Result<()> {
        let reading = match &line.what {
            What::Item(reading) => *reading,
            What::Bag { received } => {
                if *received == Some(false) {
                    self.missing.entry(place.container).or_default();
                }
                return Ok(());
            }
            What::Aside(_) => {
                unread_line(&mut self.unsure, at.list, at);
                return Ok(());
            }
        };
        let id = self.ids[at.list][reading as usize];
        let container = self.looked_in(at, id, line, place);
        let place = Place { container, ..place };
        let good = match line.quantity {
            Some(quantity) => Some(self.pieces(at, quantity, u64::from(line.places), 1)?),
            None => None,
        };
        let damaged = self.pieces(at, line.damaged(), 1, 1)?;
        if good.is_none() {
            self.of.blank.push((id, place.container));
            if damaged == 0 {
                return Ok(());
            }
        }
        let item = &mut self.of.items[id as usize];
        self.rows.push((id, line.sheet, line.row));
        let new = Counted {
            good,
            damaged,
            fitted: place.usage == Usage::ComesFitted,
        };
        let Some(known) = self.counted.get_mut(&(id, place.container)) else {
            self.counted.insert((id, place.container), new);
            return Ok(());
        };
        // Two counts add only where their bags differ. The lower one is the safe one.
        let bag = &self.containers[place.container as usize].name;
        let doubt = Doubt::Said(
            if bag.is_empty() {
                "counted twice: the lower figure is taken, not the sum".to_owned()
            } else {
                format!("counted twice in {bag}: the lower figure is taken, not the sum")
            }
            .into(),
        );
        if !item.doubts.contains(&doubt) {
            item.doubts.push(doubt);
        }
        known.good = match (known.good, new.good) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        known.damaged = known.damaged.max(new.damaged);
        known.fitted &= new.fitted;
        Ok(())
    }

    /// Puts what the required lists put in a bag on the slip that lists the bag, unless that slip
    /// lists pieces of the bag itself.
    fn open_bags(&mut self) -> Result<()> {
        let itemised: FxHashSet<(usize, u32)> = self.itemised_bags();
        for (at, bag, bags) in std::mem::take(&mut self.slip_bags) {
            if itemised.contains(&(at.list, bag)) {
                continue;
            }
            let mut inside: Vec<(u32, u64)> = self
                .bagged
                .iter()
                .filter(|((_, container, _), _)| {
                    self.containers[bag as usize].holds(&self.containers[*container as usize])
                })
                .map(|((item, ..), pieces)| (*item, *pieces))
                .collect();
            inside.sort_unstable();
            if inside.is_empty() {
                self.of.unopened.push(at);
            }
            for (item, each) in inside {
                let pieces = self.pieces(at, each, bags, 1)?;
                self.shipped.entry((item, bag)).or_default().pieces += pieces;
                let line = &self.lists[at.list].lines[at.line];
                let evidence = &mut self.of.items[item as usize].shipped_by;
                push_row(evidence, at.list, line.sheet, line.row);
            }
        }
        Ok(())
    }

    /// List and container of every slip line that lists pieces in a bag, where slips list bags.
    fn itemised_bags(&mut self) -> FxHashSet<(usize, u32)> {
        let mut itemised = FxHashSet::default();
        if self.slip_bags.is_empty() {
            return itemised;
        }
        for (at, list) in self.lists.iter().enumerate() {
            if list.role != Role::Shipped {
                continue;
            }
            for line in &list.lines {
                if matches!(line.what, What::Item(_)) {
                    let placement = list.placement_of(line);
                    let container = self.container(
                        placement.bag.as_deref(),
                        placement.carton.as_deref(),
                        self.parcels.of_list(at),
                    );
                    itemised.insert((at, container));
                }
            }
        }
        itemised
    }

    fn finish(self) -> Inventory {
        fn sorted<K: Ord, V>(map: FxHashMap<K, V>) -> Vec<(K, V)> {
            let mut all: Vec<(K, V)> = map.into_iter().collect();
            all.sort_by(|a, b| a.0.cmp(&b.0));
            all
        }
        let mut of = self.of;
        for (item, first) in of.items.iter_mut().zip(self.first_stages) {
            item.first_stage = first;
            fold(&mut item.required_by);
            fold(&mut item.shipped_by);
            fold(&mut item.counted_by);
            fold(&mut item.stocked_by);
            fold(&mut item.left_by);
        }
        of.ids = self.ids;
        of.blank.sort_unstable();
        of.blank.dedup();
        of.containers = self.containers;
        of.needs = sorted(self.needs);
        of.shipped = sorted(self.shipped);
        of.counted = sorted(self.counted);
        of.stocked = sorted(self.stocked);
        of.left_over = sorted(self.left_over);
        of.packs = sorted(self.packs);
        of.bagged = sorted(self.bagged);
        of.not_received = sorted(self.missing);
        for (_, rows) in &mut of.not_received {
            fold(rows);
        }
        of.unread = sorted(self.unread);
        of.aside = sorted(self.aside);
        of.unsure = sorted(self.unsure);
        of
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
