//! How alike two sheets are, by what they ask for in all.

use super::sums::Sums;

/// How alike two sheets are.
pub(super) struct Likeness {
    pub(super) agree: usize,
    /// Items of both, whatever their figures.
    pub(super) shared: usize,
    /// Items of either.
    pub(super) of: usize,
}

impl Likeness {
    pub(super) fn between(a: &Sums, b: &Sums) -> Likeness {
        let (mut agree, mut both) = (0, 0);
        let mut others = b.items.iter().peekable();
        for (item, sum) in &a.items {
            while others.next_if(|(other, _)| *other < item).is_some() {}
            if let Some((_, other)) = others.next_if(|(other, _)| *other == item) {
                both += 1;
                agree += usize::from(sum.pieces == other.pieces);
            }
        }
        Likeness {
            agree,
            shared: both,
            of: a.items.len() + b.items.len() - both,
        }
    }

    /// How alike `a` is to sums of so many items, of which `here` are those of its own items.
    pub(super) fn among(a: &Sums, here: &Sums, items: usize) -> Likeness {
        let like = Likeness::between(a, here);
        Likeness {
            of: a.items.len() + items - like.shared,
            ..like
        }
    }

    pub(super) fn is_exact(&self) -> bool {
        self.agree == self.of
    }

    pub(super) fn is_at_least(&self, parts: usize, of: usize) -> bool {
        self.agree * of >= self.of * parts
    }

    /// Few items are of one alone.
    pub(super) fn is_of_nearly_the_same(&self) -> bool {
        self.shared * 4 >= self.of * 3
    }

    /// Most items are of both, whatever their figures.
    pub(super) fn is_of_the_same(&self) -> bool {
        self.shared > 0 && self.shared * 2 >= self.of
    }
}
