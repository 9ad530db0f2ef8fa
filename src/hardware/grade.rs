//! Strength grades, materials and finishes.

use crate::names::names;

names! {
    /// A strength grade, property class or material as stated on a line.
    pub enum Grade {
        Grade2 = "Grade 2",
        Grade5 = "Grade 5",
        Grade8 = "Grade 8",
        /// Hex nuts and structural washers of the grade letters, ASTM A563.
        GradeA = "Grade A",
        GradeC = "Grade C",
        GradeDh = "Grade DH",
        Grade2H = "Grade 2H",
        A307 = "A307",
        A325 = "A325",
        A490 = "A490",
        F436 = "F436",
        F1554 = "F1554",
        B7 = "B7",
        Class46 = "4.6",
        Class48 = "4.8",
        Class56 = "5.6",
        Class58 = "5.8",
        Class68 = "6.8",
        Class88 = "8.8",
        Class109 = "10.9",
        Class129 = "12.9",
        /// Nut property classes, ISO 898-2.
        Class5 = "Class 5",
        Class6 = "Class 6",
        Class8 = "Class 8",
        Class10 = "Class 10",
        Class12 = "Class 12",
        Stainless = "stainless",
        Stainless18_8 = "18-8",
        A2_50 = "A2-50",
        A2_70 = "A2-70",
        A2_80 = "A2-80",
        Stainless316 = "316",
        A4_50 = "A4-50",
        A4_70 = "A4-70",
        A4_80 = "A4-80",
        Stainless410 = "410",
        Steel = "steel",
        Brass = "brass",
        SiliconBronze = "silicon bronze",
        Aluminium = "aluminium",
        Nylon = "nylon",
    }
}

names! {
    /// What a piece is made of.
    pub enum Material {
        Steel = "steel",
        Stainless = "stainless",
        Stainless18_8 = "18-8 stainless",
        Stainless316 = "316 stainless",
        Stainless410 = "410 stainless",
        Brass = "brass",
        SiliconBronze = "silicon bronze",
        Aluminium = "aluminium",
        Nylon = "nylon",
    }
}

names! {
    /// A surface finish as stated on a line.
    pub enum Finish {
        Plain = "plain",
        Zinc = "zinc plated",
        YellowZinc = "yellow zinc",
        HotDip = "hot-dip galvanised",
        MechanicalGalvanised = "mechanically galvanised",
        Galvanised = "galvanised",
        ZincFlake = "zinc flake",
        BlackOxide = "black oxide",
        BlackZinc = "black zinc",
        Phosphate = "phosphate",
        Nickel = "nickel plated",
        Chrome = "chrome plated",
        Cadmium = "cadmium plated",
        Painted = "painted",
        PowderCoated = "powder coated",
        Passivated = "passivated",
        Coated = "coated",
    }
}

/// Grades of one standard, each stronger than the one before: SAE J429, ASTM F3125, ISO 898-1,
/// ISO 898-2, ISO 3506-1 (the order is that of the names' own strengths).
const LADDERS: &[&[Grade]] = &[
    &[Grade::Grade2, Grade::Grade5, Grade::Grade8],
    &[Grade::A325, Grade::A490],
    &[
        Grade::Class46,
        Grade::Class48,
        Grade::Class56,
        Grade::Class58,
        Grade::Class68,
        Grade::Class88,
        Grade::Class109,
        Grade::Class129,
    ],
    &[
        Grade::Class5,
        Grade::Class6,
        Grade::Class8,
        Grade::Class10,
        Grade::Class12,
    ],
    &[Grade::A2_50, Grade::A2_70, Grade::A2_80],
    &[Grade::A4_50, Grade::A4_70, Grade::A4_80],
];

impl Grade {
    /// As the trade calls it beside a size: the stainless of metric pieces by its ISO 3506-1 group, A2 and A4, and that
    /// of inch pieces 18-8 and 316.
    pub fn called(self, metric: bool) -> &'static str {
        match self {
            Grade::Stainless18_8 if metric => "A2",
            Grade::Stainless316 if metric => "A4",
            _ => self.as_str(),
        }
    }

    /// How many grades `other` stands above this one, of the same standard; `None` for one below, and
    /// for those that are not compared.
    pub fn steps_up_to(self, other: Grade) -> Option<u32> {
        LADDERS.iter().find_map(|ladder| {
            let at = |grade| ladder.iter().position(|of| *of == grade);
            at(other)?.checked_sub(at(self)?).map(|steps| steps as u32)
        })
    }

    /// What a piece of this grade is made of: SAE J429, ASTM and ISO 898 grades are steel; 304 and A2
    /// are 18-8 stainless, A4 is 316 (ISO 3506-1).
    pub const fn material(self) -> Material {
        match self {
            Grade::Stainless => Material::Stainless,
            Grade::Stainless18_8 | Grade::A2_50 | Grade::A2_70 | Grade::A2_80 => {
                Material::Stainless18_8
            }
            Grade::Stainless316 | Grade::A4_50 | Grade::A4_70 | Grade::A4_80 => {
                Material::Stainless316
            }
            Grade::Stainless410 => Material::Stainless410,
            Grade::Brass => Material::Brass,
            Grade::SiliconBronze => Material::SiliconBronze,
            Grade::Aluminium => Material::Aluminium,
            Grade::Nylon => Material::Nylon,
            _ => Material::Steel,
        }
    }

    /// True where the grade says how strong a piece of steel is; what stainless is made of says little of
    /// that.
    pub fn is_strength(self) -> bool {
        !self.is_material() && self.material() == Material::Steel
    }

    /// True where the grade names a material and no strength.
    pub const fn is_material(self) -> bool {
        matches!(
            self,
            Grade::Stainless
                | Grade::Stainless18_8
                | Grade::Stainless316
                | Grade::Stainless410
                | Grade::Steel
                | Grade::Brass
                | Grade::SiliconBronze
                | Grade::Aluminium
                | Grade::Nylon
        )
    }

    /// True where one piece can bear both names: the same grade, or a material and a grade of that
    /// material (`18-8` and `A2-70`, `stainless` and `316`, `steel` and `Grade 5`).
    pub fn agrees(self, other: Grade) -> bool {
        let of = |general: Grade, special: Grade| {
            general.is_material() && general.material().covers(special.material())
        };
        self == other || of(self, other) || of(other, self)
    }
}

impl Material {
    /// True where `other` is this material or a kind of it.
    pub fn covers(self, other: Material) -> bool {
        self == other
            || self == Material::Stainless
                && matches!(
                    other,
                    Material::Stainless18_8 | Material::Stainless316 | Material::Stainless410
                )
    }
}

impl Finish {
    /// True for what is made of zinc.
    pub const fn is_zinc(self) -> bool {
        matches!(
            self,
            Finish::Zinc
                | Finish::YellowZinc
                | Finish::BlackZinc
                | Finish::ZincFlake
                | Finish::Galvanised
                | Finish::HotDip
                | Finish::MechanicalGalvanised
        )
    }

    /// True where one piece can bear both names: the same finish, or a general name and a kind of it
    /// (`galvanised` and `hot-dip galvanised`, `coated` and `zinc flake`).
    pub fn agrees(self, other: Finish) -> bool {
        let of = |general: Finish, special: Finish| match general {
            Finish::Galvanised => matches!(special, Finish::HotDip | Finish::MechanicalGalvanised),
            Finish::Coated => matches!(
                special,
                Finish::ZincFlake | Finish::Painted | Finish::PowderCoated
            ),
            _ => false,
        };
        self == other || of(self, other) || of(other, self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn grades(a: Grade, b: Grade, agree: bool) {
        assert_eq!(a.agrees(b), agree, "{a} and {b}");
        assert_eq!(b.agrees(a), agree, "{b} and {a}");
    }

    #[test]
    fn a_material_agrees_with_its_classes() {
        // ISO 3506-1: A2 is 18-8 (304), A4 is 316; 50, 70 and 80 are strength classes.
        grades(Grade::Stainless18_8, Grade::A2_70, true);
        grades(Grade::A2_70, Grade::A2_80, false);
        grades(Grade::Stainless316, Grade::A4_80, true);
        grades(Grade::Stainless316, Grade::A2_70, false);
        grades(Grade::Stainless, Grade::A4_70, true);
        grades(Grade::Stainless, Grade::Stainless410, true);
        grades(Grade::Steel, Grade::Grade5, true);
        grades(Grade::Steel, Grade::Stainless, false);
        grades(Grade::Grade5, Grade::Grade8, false);
        grades(Grade::Brass, Grade::SiliconBronze, false);
    }

    #[test]
    fn grades_stand_in_order() {
        assert_eq!(Grade::Grade5.steps_up_to(Grade::Grade8), Some(1));
        assert_eq!(Grade::Grade2.steps_up_to(Grade::Grade8), Some(2));
        assert_eq!(Grade::Grade8.steps_up_to(Grade::Grade5), None);
        assert_eq!(Grade::Class88.steps_up_to(Grade::Class109), Some(1));
        assert_eq!(Grade::Grade8.steps_up_to(Grade::Class109), None);
        assert_eq!(Grade::A2_70.steps_up_to(Grade::A2_70), Some(0));
    }

    #[track_caller]
    fn finishes(a: Finish, b: Finish, agree: bool) {
        assert_eq!(a.agrees(b), agree, "{a} and {b}");
        assert_eq!(b.agrees(a), agree, "{b} and {a}");
    }

    #[test]
    fn galvanised_agrees_with_both_ways_of_doing_it() {
        finishes(Finish::Galvanised, Finish::HotDip, true);
        finishes(Finish::Galvanised, Finish::MechanicalGalvanised, true);
        finishes(Finish::HotDip, Finish::MechanicalGalvanised, false);
        finishes(Finish::Zinc, Finish::YellowZinc, false);
        finishes(Finish::Zinc, Finish::Galvanised, false);
        finishes(Finish::Coated, Finish::ZincFlake, true);
    }
}
