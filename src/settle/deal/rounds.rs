//! Kit by kit: what can be dealt stage by stage is dealt for whole kits first.

use std::ops::Range;

use super::Build;

/// What deals the stages of kits, one after another.
pub trait Rounds {
    /// How things stand, to be gone back to.
    type Stand;

    fn stand(&self) -> Self::Stand;

    fn go_back(&mut self, to: Self::Stand);

    /// Deals some stages one after another, of `kits` kits at once, each wanting `each`; says what they
    /// got in all.
    fn round(&mut self, each: &[u64], kits: u64, stages: Range<usize>) -> Vec<u64>;
}

/// Whole kits first: as many kits as can be are covered in full, the next as far as it goes, and
/// so on with what is left of a kit's wants, for what one kit could not get none after it can. Wants are stage and
/// pieces of one kit, in order of stage; gives the pieces that each got over all kits.
pub fn whole_kits_first(of: &mut impl Rounds, wants: &[(usize, u64)], build: &Build) -> Vec<u64> {
    let Build { kits, ref open } = *build;
    let all: Vec<u64> = wants.iter().map(|(_, pieces)| *pieces).collect();
    let mut covered = of.round(&all, kits, 0..open.start);
    let mut note = |got: &[u64], kits: u64| {
        for (covered, pieces) in covered.iter_mut().zip(got) {
            *covered += pieces * kits;
        }
    };
    let of_kit = wants
        .iter()
        .map(|&(stage, each)| match open.contains(&stage) {
            true => each,
            false => 0,
        });
    let mut each: Vec<u64> = of_kit.collect();
    let mut kits_left = kits;
    while kits_left > 0 {
        if kits_left > 1 {
            let whole = whole(of, &each, kits_left, open);
            of.round(&each, whole, open.clone());
            note(&each, whole);
            kits_left -= whole;
        }
        if kits_left > 0 {
            each = of.round(&each, 1, open.clone());
            note(&each, 1);
            kits_left -= 1;
        }
    }
    let behind = of.round(&all, kits, open.end..usize::MAX);
    note(&behind, 1);
    covered
}

/// Most kits, up to `most`, that can be covered in full, each wanting `each`.
fn whole(of: &mut impl Rounds, each: &[u64], most: u64, stages: &Range<usize>) -> u64 {
    let mut covered = |kits: u64| {
        let before = of.stand();
        let got = of.round(each, kits, stages.clone());
        of.go_back(before);
        got.iter().zip(each).all(|(got, each)| *got == each * kits)
    };
    if covered(most) {
        return most;
    }
    let (mut yes, mut no) = (0, most);
    while no - yes > 1 {
        let middle = yes + (no - yes) / 2;
        if covered(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    yes
}
