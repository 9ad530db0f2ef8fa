//! Grades and classes: `Grade 5`, `class 8.8`, `Grade A`.

use super::Stretch;
use crate::{
    hardware::{Grade, Ratio},
    notation::{
        callout::Role,
        draft::{finer_grade, grade_number},
        number::{Prefix, Shape},
        token::Tok,
        words::{Row, Sense},
    },
};

impl<'a> Stretch<'_, 'a> {
    pub(super) fn grade(&mut self, grade: Grade) {
        let mut doubts = Vec::new();
        self.draft.traits.grade = Some(match self.draft.traits.grade {
            Some(stated) => finer_grade(stated, grade, &mut doubts),
            None => grade,
        });
        self.draft.doubts.append(&mut doubts);
    }

    /// `Grade 5`, `Gr. 8`, `class 8.8`, `Grade A`.
    pub(super) fn grade_word(&mut self, i: usize, row: &Row) -> usize {
        let at = self.reader.skip(i + 1, |tok| {
            matches!(tok, Tok::Dot | Tok::Dash | Tok::Colon)
        });
        let class = matches!(row.spelling, "class" | "cl");
        // `grade five`
        let spoken = self
            .sense(at, |sense| match sense {
                Sense::Count(n) => i64::try_from(*n).ok(),
                _ => None,
            })
            .map(|n| (Ratio::from_integer(n), Shape::Whole, Prefix::None));
        if let Some((value, _, Prefix::None)) = self.number(at).or(spoken) {
            if let Some(grade) = grade_number(value, class) {
                self.grade(grade);
                self.reader.mark(i..at + 1, Role::Grade);
                return at + 1;
            }
            return i + 1;
        }
        if at < self.end && self.is_word(at) {
            let letter = match self.text(at) {
                "A" | "a" => Some(Grade::GradeA),
                "C" | "c" => Some(Grade::GradeC),
                _ => None,
            };
            if let Some(letter) = letter {
                // ASTM A307 has a Grade A of its own.
                if self.draft.traits.grade != Some(Grade::A307) {
                    self.grade(letter);
                }
                self.reader.mark(i..at + 1, Role::Grade);
                return at + 1;
            }
        }
        i + 1
    }
}
