//! Whether one piece can be what two lines ask for, and what nobody has confirmed about it.

use crate::hardware::{Grade, Item, Kind, Material, Style, grade::Finish};

/// A field that one side leaves open, or states more closely than the other.
struct Field {
    name: &'static str,
    /// How unwelcome it is that this field is not confirmed.
    cost: i32,
}

/// What may stay unconfirmed. Costs only rank the ways to deal: an open kind or length is worse than
/// all the others together, and a nut of no stated style is a hex nut before it is any other.
const FIELDS: [Field; 14] = [
    field("kind", 16),
    field("length", 16),
    field("style", 4),
    field("style", 1),
    field("thread", 2),
    field("grade", 2),
    field("finish", 2),
    field("outside diameter", 1),
    field("head", 1),
    field("drive", 1),
    field("point", 1),
    field("threaded length", 1),
    field("part number", 1),
    field("kind", 8),
];

const fn field(name: &'static str, cost: i32) -> Field {
    Field { name, cost }
}

const KIND: usize = 0;
const LENGTH: usize = 1;
const STYLE: usize = 2;
const USUAL_STYLE: usize = 3;
const THREAD: usize = 4;
const GRADE: usize = 5;
const FINISH: usize = 6;
const OUTSIDE: usize = 7;
const HEAD: usize = 8;
const DRIVE: usize = 9;
const POINT: usize = 10;
const THREADED_LENGTH: usize = 11;
const NUMBER: usize = 12;
/// A word that no style stands for: what it makes of the kind is not known.
const CALLED: usize = 13;

/// How a supply fits a demand: exactly, or with fields that are not confirmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Fit {
    open: u16,
}

impl Fit {
    /// What both sides state is the same, or they bear one maker's number.
    pub const EXACT: Fit = Fit { open: 0 };

    fn open(&mut self, field: usize) {
        self.open |= 1 << field;
    }

    fn fields(self) -> impl Iterator<Item = &'static Field> {
        let mut open = self.open;
        std::iter::from_fn(move || {
            let field = FIELDS.get(open.trailing_zeros() as usize)?;
            open &= open - 1;
            Some(field)
        })
    }

    /// 0 where it is exact.
    pub fn cost(self) -> i32 {
        self.fields().map(|field| field.cost).sum()
    }

    pub fn is_exact(self) -> bool {
        self.open == 0
    }

    /// True where not even the kind or the length is sure: one side calls it otherwise, or does not state it.
    pub fn is_vague(self) -> bool {
        self.open & (1 << KIND | 1 << LENGTH | 1 << CALLED) != 0
    }

    /// True where one side calls it by a word that no style stands for.
    pub fn is_called_otherwise(self) -> bool {
        self.open & (1 << CALLED) != 0
    }

    /// The fields that are not confirmed.
    pub fn unconfirmed(self) -> impl Iterator<Item = &'static str> {
        self.fields().map(|field| field.name)
    }
}

/// How `supply` fits `demand`, by what the two state; `None` where it cannot serve.
///
/// What both state must agree; what only one states is not confirmed. The diameter is never left
/// open, and a length only where both name the same kind, for an unsized line could be anything. An eye bolt is
/// no bolt of which the head was left unsaid, and a nylon one none of which the steel was.
pub fn fit(demand: &Item, supply: &Item) -> Option<Fit> {
    let bent = |item: &Item| item.style.is_some_and(Style::is_bent);
    if !demand.agrees(supply)
        || bent(demand) != bent(supply)
        || demand.grade.is_none() && supply.grade == Some(Grade::Nylon)
        || demand.diameter.is_some() != supply.diameter.is_some()
        || demand.is_told_apart(supply)
        || plating_refutes(demand, supply)
        || plating_refutes(supply, demand)
    {
        return None;
    }
    if demand.length.is_some() != supply.length.is_some()
        && (demand.kind.is_none() || demand.kind != supply.kind)
    {
        return None;
    }
    let mut fit = Fit::EXACT;
    // A bolt is turned by its head: one with a recess is another piece.
    let turned = demand.kind == Some(Kind::Bolt) && demand.drive != supply.drive;
    let differing = [
        (KIND, demand.kind != supply.kind),
        (LENGTH, demand.length != supply.length),
        (
            THREAD,
            demand.effective_thread() != supply.effective_thread(),
        ),
        (GRADE, demand.grade != supply.grade),
        (FINISH, demand.finish != supply.finish),
        (OUTSIDE, demand.outside != supply.outside),
        (HEAD, demand.head != supply.head),
        (DRIVE, demand.drive != supply.drive),
        (POINT, demand.point != supply.point),
        (THREADED_LENGTH, demand.full_thread != supply.full_thread),
        (NUMBER, number(demand) != number(supply)),
        (CALLED, turned || !demand.is_called_alike(supply)),
    ];
    for (field, differs) in differing {
        if differs {
            fit.open(field);
        }
    }
    if demand.style != supply.style {
        let stated = demand.style.or(supply.style);
        let usual = usual_style(demand.kind.or(supply.kind));
        let one_side = demand.style.is_none() || supply.style.is_none();
        fit.open(if one_side && stated == usual {
            USUAL_STYLE
        } else {
            STYLE
        });
    }
    Some(fit)
}

fn number(item: &Item) -> Option<&str> {
    item.part.as_ref()?.number.as_deref()
}

/// The style of a kind where none is stated. Common practice, no source.
pub fn usual_style(kind: Option<Kind>) -> Option<Style> {
    match kind? {
        Kind::Bolt | Kind::Nut => Some(Style::Hex),
        Kind::Washer => Some(Style::Flat),
        Kind::Rod => Some(Style::Threaded),
        _ => None,
    }
}

/// True where one side's finish is put on steel only and the other side is made of something else.
/// Common practice, no source.
pub fn plating_refutes(plated: &Item, other: &Item) -> bool {
    let steel_only = matches!(
        plated.finish,
        Some(
            Finish::Zinc
                | Finish::YellowZinc
                | Finish::HotDip
                | Finish::MechanicalGalvanised
                | Finish::Galvanised
                | Finish::ZincFlake
                | Finish::BlackZinc
                | Finish::Phosphate
        )
    );
    steel_only
        && plated.grade.is_none()
        && other.finish.is_none()
        && other
            .grade
            .is_some_and(|grade: Grade| grade.material() != Material::Steel)
}

#[cfg(test)]
mod tests {
    use super::super::sample::item;
    use super::*;
    use crate::notation::{Notation, describe};

    /// `unconfirmed` is the fields left open, comma-separated; `None` where the two are not one item.
    #[track_caller]
    fn case(a: &str, b: &str, unconfirmed: Option<&str>) {
        let words = |fit: Option<Fit>| fit.map(|f| f.unconfirmed().collect::<Vec<_>>().join(", "));
        let (a, b) = (item(a), item(b));
        assert_eq!(words(fit(&a, &b)).as_deref(), unconfirmed, "{a} / {b}");
        assert_eq!(words(fit(&b, &a)).as_deref(), unconfirmed, "{b} / {a}");
    }

    #[test]
    fn what_fits_what() {
        case("bolt hex 1/2 3", "bolt hex 1/2 3", Some(""));
        // A thread that is not stated is the coarse one: ASME B1.1, 1/2-13 UNC and 1/2-20 UNF.
        case("bolt hex 1/2 3", "bolt hex 1/2-13 3", Some(""));
        case("bolt hex 1/2 3", "bolt hex 1/2-20 3", None);
        case("bolt hex 1/2 3", "bolt hex 1/2 3-1/4", None);
        case("bolt hex 1/2 3 g5", "bolt hex 1/2 3", Some("grade"));
        case("bolt hex 1/2 3 g5", "bolt hex 1/2 3 g8", None);
        case("bolt hex 1/2 3 18-8", "bolt hex 1/2 3 a2-70", Some("grade"));
        case("bolt hex 1/2 3 18-8", "bolt hex 1/2 3 316", None);
        case(
            "bolt hex 1/2 3 g5 hdg",
            "bolt hex 1/2 3",
            Some("grade, finish"),
        );
        case("bolt hex 1/2 3 hdg", "bolt hex 1/2 3 zp", None);
        // Zinc goes on steel, so a stainless bolt is no galvanised one.
        case("bolt hex 1/2 3 hdg", "bolt hex 1/2 3 18-8", None);
        case("bolt 1/2 3", "bolt hex 1/2 3", Some("style"));
        case("bolt carriage 1/2 3", "bolt hex 1/2 3", None);
        case("bolt eye 1/2 3", "bolt 1/2 3", None);
        case("bolt eye 1/2 3", "bolt eye 1/2 3", Some(""));
        case("nut hex 1/2", "nut nylon 1/2", None);
        case("washer flat 1/2", "washer uss 1/2", Some("style"));
        case("washer sae 1/2", "washer uss 1/2", None);
        case("1/2 3", "bolt hex 1/2 3", Some("kind, style"));
        case("1/2", "bolt hex 1/2 3", None);
        case("1/2", "nut hex 1/2", Some("kind, style"));
        case("bolt hex 1/2", "bolt hex 1/2 3", Some("length"));
        case("bolt hex", "bolt hex 1/2 3", None);
        case("bolt hex 1/2 3 full", "bolt hex 1/2 3 partly", None);
        case(
            "bolt hex 1/2 3 full",
            "bolt hex 1/2 3",
            Some("threaded length"),
        );
    }

    /// A word that no style stands for, a recess in the head of a bolt and another standard make it another piece, or
    /// nobody knows (common practice, no source).
    #[test]
    fn words_that_make_another_piece() {
        #[track_caller]
        fn case(a: &str, b: &str, expected: &str) {
            let read = |text| {
                describe(text, Notation::default())
                    .expect("an item")
                    .swap_remove(0)
            };
            let (a, b) = (read(a).item, read(b).item);
            for (demand, supply) in [(&a, &b), (&b, &a)] {
                let found = match fit(demand, supply) {
                    None => "other",
                    Some(fit) if fit.is_vague() => "not known",
                    Some(_) => "same",
                };
                assert_eq!(found, expected, "{demand} / {supply}");
            }
        }
        case(
            "hex bolt M16 x 140",
            "hex bolt M16 x 140 reduced shank",
            "not known",
        );
        case(
            "hex bolt M16 x 140",
            "hex bolt M16 x 140, drilled",
            "not known",
        );
        case(
            "hex bolt M16 x 140",
            "hex bolt M16 x 140 with hole",
            "not known",
        );
        case(
            "hex bolt M16 x 140",
            "hex bolt M16 x 140 low head",
            "not known",
        );
        case("hex bolt M16 x 140", "slotted bolt M16 x 140", "not known");
        case(
            "hex bolt M16 x 140",
            "dome head bolt M16 x 140",
            "not known",
        );
        case(
            "hex bolt M16 x 140",
            "hex bolt M16 x 140 DIN 6914",
            "not known",
        );
        case(
            "hex bolt M16 x 140, drilled shank",
            "drilled shank hex bolts M16 x 140",
            "same",
        );
        case("hex bolt M16 x 140", "long hex bolt M16 x 140", "same");
        case("swing hook M10 x 160", "M10 x 160 swing hooks", "same");
        case("swing hook M10 x 160", "hex bolt M10 x 160", "not known");
        case("wedge anchors", "post anchors", "other");
        case("wedge anchors", "anchors", "same");
        case("hex bolt M8 x 40", "hammer head bolt M8 x 40", "other");
        case("T-bolt M8 x 40", "hammer head bolt M8 x 40", "same");
        case("washer M8", "thick washer M8", "other");
        case("washer M8", "tooth washer M8", "other");
        case("nut M8", "long nut M8", "other");
        case("coupling nut M8", "long nut M8", "same");
        case("nut M8", "dome nut M8", "other");
        case("nut M10 DIN 985", "nut M10 DIN 980", "other");
        case("bolt M12 x 80 ISO 4014", "bolt M12 x 80 ISO 4017", "other");
        case("bolt M12 x 80 DIN 931", "bolt M12 x 80 ISO 4014", "same");
    }

    /// Who asks for a nylon washer may have been sent one by its size alone; who asks for a washer wants no nylon.
    #[test]
    fn nylon_is_no_steel_left_unsaid() {
        let [plain, nylon] = ["washer flat 1/2", "washer flat 1/2 plastic"].map(item);
        assert_eq!(fit(&plain, &nylon), None);
        assert!(fit(&nylon, &plain).is_some_and(|fit| !fit.is_exact()));
    }

    #[test]
    fn parts_by_number_or_description() {
        case("part TB-1 shoe", "part TB-1 shoe", Some(""));
        case("part TB-1 shoe", "part TB-2 shoe", None);
        case("part TB-1 shoe", "part - shoe", Some("part number"));
        case("part - shoe", "part - pad", None);
    }

    #[test]
    fn a_nut_is_a_hex_nut_first() {
        let cost = |b: &str| fit(&item("nut 1/2"), &item(b)).expect("agrees").cost();
        assert!(cost("nut hex 1/2") < cost("nut nylon 1/2"));
    }
}
