//! Small lists and items for tests.

use crate::{
    hardware::{Diameter, Finish, Grade, Item, Kind, Length, PartName, Ratio, Style, Thread},
    kit::{Aside, Line, List, Placement, Reading, Role, SheetRead, Usage, What},
    source::Format,
};

/// An item in few words: kind, style, size, length, grade, finish, as in `bolt hex 1/2-13 3 g5 hdg`;
/// a part as `part NUMBER DESCRIPTION`, with `-` where it has no number.
pub fn item(words: &str) -> Item {
    let mut item = Item::default();
    if let Some(rest) = words.strip_prefix("part ") {
        let (number, description) = rest.split_once(' ').unwrap_or((rest, ""));
        item.kind = Some(Kind::Part);
        item.part = Some(Box::new(PartName {
            number: (number != "-").then(|| number.into()),
            description: (!description.is_empty()).then(|| description.into()),
        }));
        return item;
    }
    for word in words.split_whitespace() {
        match word {
            "bolt" => item.kind = Some(Kind::Bolt),
            "screw" => item.kind = Some(Kind::Screw),
            "nut" => item.kind = Some(Kind::Nut),
            "washer" => item.kind = Some(Kind::Washer),
            "hex" => item.style = Some(Style::Hex),
            "carriage" => item.style = Some(Style::Carriage),
            "wood" => item.style = Some(Style::Wood),
            "deck" => item.style = Some(Style::Deck),
            "set" => item.style = Some(Style::Set),
            "lag" => item.style = Some(Style::Lag),
            "eye" => item.style = Some(Style::Eye),
            "plastic" => item.grade = Some(Grade::Nylon),
            "nylon" => item.style = Some(Style::NylonInsert),
            "flat" => item.style = Some(Style::Flat),
            "sae" => item.style = Some(Style::Sae),
            "uss" => item.style = Some(Style::Uss),
            "g5" => item.grade = Some(Grade::Grade5),
            "g8" => item.grade = Some(Grade::Grade8),
            "18-8" => item.grade = Some(Grade::Stainless18_8),
            "a2-70" => item.grade = Some(Grade::A2_70),
            "316" => item.grade = Some(Grade::Stainless316),
            "hdg" => item.finish = Some(Finish::HotDip),
            "zp" => item.finish = Some(Finish::Zinc),
            "full" => item.full_thread = Some(true),
            "partly" => item.full_thread = Some(false),
            size if item.diameter.is_none() => {
                let (diameter, thread) = size.split_once('-').unwrap_or((size, ""));
                item.diameter = Some(Diameter::Inch(ratio(diameter)));
                item.thread = thread.parse().ok().map(Thread::per_inch);
            }
            length => item.length = Some(Length::Inch(ratio(length))),
        }
    }
    item
}

fn ratio(text: &str) -> Ratio {
    let (whole, part) = match text.split_once('-') {
        Some((whole, part)) => (whole.parse().expect("a whole number"), part),
        None => (0, text),
    };
    let (numer, denom) = part.split_once('/').unwrap_or((part, "1"));
    let number = |text: &str| text.parse::<i64>().expect("a whole number");
    Ratio::from_integer(whole) + Ratio::new(number(numer), number(denom))
}

/// A list under construction.
#[derive(Clone)]
pub struct ListOf(List);

/// One line in the making: what `ListOf::line` was given, to be filled in.
pub type Fill<'a> = &'a dyn Fn(&mut Line, &mut Placement);

impl ListOf {
    pub fn new(role: Role, file: &str) -> ListOf {
        let mut list = List::new(file.into(), file.to_owned(), role, Format::Delimited(b','));
        list.sheets.push(SheetRead::default());
        ListOf(list)
    }

    pub fn required() -> ListOf {
        ListOf::new(Role::Required, "parts.csv")
    }

    pub fn shipped() -> ListOf {
        ListOf::new(Role::Shipped, "slip.csv")
    }

    pub fn leftover() -> ListOf {
        ListOf::new(Role::LeftOver, "leftover.csv")
    }

    pub fn stock() -> ListOf {
        ListOf::new(Role::Stock, "stock.csv")
    }

    pub fn counted() -> ListOf {
        ListOf::new(Role::Counted, "count.csv")
    }

    /// Adds a line: an item, its quantity, and what else it says.
    pub fn line(self, words: &str, quantity: impl Into<Option<u64>>, fill: Fill<'_>) -> ListOf {
        self.push(Some((item(words), None)), words, quantity.into(), fill)
    }

    /// Adds a line of a hardware item that shows its maker's number, too.
    pub fn numbered(self, number: &str, words: &str, quantity: u64, fill: Fill<'_>) -> ListOf {
        self.push(
            Some((item(words), Some(number.into()))),
            words,
            Some(quantity),
            fill,
        )
    }

    /// Adds a line that is no item, to be filled in.
    pub fn other(self, fill: Fill<'_>) -> ListOf {
        self.push(None, "", None, fill)
    }

    /// Adds a line that is not understood.
    pub fn aside(self, reason: &str, fill: Fill<'_>) -> ListOf {
        self.aside_as(Aside::NoItem(reason.into()), fill)
    }

    pub fn aside_as(mut self, aside: Aside, fill: Fill<'_>) -> ListOf {
        let what = self.0.put_aside(aside);
        self.other(&|line, placement| {
            line.what = what;
            fill(line, placement);
        })
    }

    fn push(
        mut self,
        item: Option<(Item, Option<Box<str>>)>,
        words: &str,
        quantity: Option<u64>,
        fill: Fill<'_>,
    ) -> ListOf {
        let list = &mut self.0;
        let what = match item {
            Some((item, part_number)) => {
                list.readings.push(Reading {
                    item,
                    part_number,
                    comes_with: false,
                    lent_size: false,
                    doubts: Vec::new(),
                });
                What::Item(list.readings.len() as u32 - 1)
            }
            None => What::Bag { received: None },
        };
        let text = list.text.push(words);
        let mut placement = Placement::default();
        let (row, place) = (list.lines.len() as u32 + 2, list.placements.len() as u32);
        let mut line = Line::new(row, text, what, place, quantity);
        fill(&mut line, &mut placement);
        list.placements.push(placement);
        list.lines.push(line);
        self
    }

    pub fn edit(mut self, edit: impl FnOnce(&mut List)) -> ListOf {
        edit(&mut self.0);
        self
    }

    pub fn list(self) -> List {
        self.0
    }
}

/// Nothing more to say.
pub fn plain(_: &mut Line, _: &mut Placement) {}

pub fn stage(name: &str) -> impl Fn(&mut Line, &mut Placement) {
    let name: Box<str> = name.into();
    move |_, placement| placement.stage = Some(name.clone())
}

pub fn bag(name: &str) -> impl Fn(&mut Line, &mut Placement) {
    let name: Box<str> = name.into();
    move |_, placement| placement.bag = Some(name.clone())
}

/// A stage and a bag.
pub fn at(stage: &str, bag: &str) -> impl Fn(&mut Line, &mut Placement) {
    let [stage, bag]: [Box<str>; 2] = [stage.into(), bag.into()];
    move |_, placement| {
        placement.stage = Some(stage.clone());
        placement.bag = Some(bag.clone());
    }
}

/// A stage and a use.
pub fn used(name: &str, usage: Usage) -> impl Fn(&mut Line, &mut Placement) {
    let name: Box<str> = name.into();
    move |_, placement| {
        placement.stage = Some(name.clone());
        placement.usage = Some(usage);
    }
}
