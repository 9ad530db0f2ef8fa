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
