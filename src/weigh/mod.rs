//! Counting by weight.
//!
//! A sample of `n` pieces weighs `w`; a batch that weighs `W` then holds about `W n / w`. To first
//! order the error of that figure, in pieces, has the variance
//!
//! ```text
//! N^2 cv^2 / n  +  N cv^2  +  scale errors in pieces
//! ```
//!
//! where `cv` is how much single pieces vary (their standard deviation over their mean): the first
//! term is the sample's mean, multiplied up; the second the batch's own pieces; and the third both
//! weighings, the sample's error growing with `N / n`. S. H. Steiner and R. J. MacKay, "Scale
//! Counting", University of Waterloo (Metrologia, 2004), study it.
//!
//! The chance that the count is exact is that of an error under half a piece. A figure that lies
//! between two whole numbers is less sure than that, one far from any is wrong somewhere, and both
//! are doubts. A count by weight cannot tell mixed lengths apart: sort first. The batch is weighed
//! without the sample.

pub mod kept;
mod law;
pub mod sheet;
mod weight;

pub use weight::{Scale, Weight, WeightUnit};

use law::Law;

use crate::names::names;

/// Taken where neither a variation nor several sample weighings are given. Common practice, no
/// source, for pieces of one lot.
pub const USUAL_VARIATION: f64 = 0.01;
/// With fewer sample weighings than this the variation they show is itself too uncertain to be
/// taken where it is below the usual one (common practice, no source).
const ENOUGH_WEIGHINGS: usize = 5;
/// A chance of being exact from which a count is sure.
pub const SURE: f64 = 0.99;
/// So many standard errors from any whole number, a weight fits no count.
const MISFIT: f64 = 4.0;
/// A larger count is no count of hardware.
const MOST: f64 = 1e9;

/// A sample: pieces counted by hand, and their weight without a container.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    pub pieces: u64,
    pub weight: Weight,
}

/// One weighing of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighing {
    /// At least one, all of the same pieces.
    pub samples: Vec<Sample>,
    /// With its container, where a tare is given.
    pub batch: Weight,
    /// The batch's container.
    pub tare: Option<Weight>,
    /// How much single pieces vary, standard deviation over mean, where it is known.
    pub variation: Option<f64>,
}

names! {
    /// Where the variation of single pieces was taken from.
    pub enum VariationFrom {
        Given = "given",
        Samples = "samples",
        /// [`USUAL_VARIATION`].
        Usual = "usual",
    }
}

/// A batch counted by weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Count {
    pub count: u64,
    /// Before rounding.
    pub estimate: f64,
    /// Of the estimate, in pieces.
    pub standard_error: f64,
    /// The chance that a count like this one is exact: that it is off by less than half a piece.
    pub chance_exact: f64,
    /// The smallest sample that makes a batch of this count [`SURE`]; `None` where no sample
    /// smaller than the batch does: count by hand.
    pub sample_needed: Option<u64>,
    pub variation: f64,
    pub variation_from: VariationFrom,
    /// What one piece of the sample weighs, in grams.
    pub piece_grams: f64,
    /// Pieces of all samples together.
    pub sample_pieces: u64,
    pub doubts: Vec<WeighDoubt>,
}

impl Count {
    /// True where the count may be relied on.
    pub fn is_sure(&self) -> bool {
        self.chance_exact >= SURE
            && !self.doubts.iter().any(|doubt| {
                matches!(
                    doubt,
                    WeighDoubt::FitsNoCount | WeighDoubt::BetweenCounts { .. }
                )
            })
    }
}

/// Why a person should look at a count by weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum WeighDoubt {
    #[error(
        "the weight fits no whole number of pieces: look for other pieces, a wrong tare or a moved zero"
    )]
    FitsNoCount,
    #[error("the weight lies between {below} and {} pieces: weigh again with a larger sample", below + 1)]
    BetweenCounts { below: u64 },
    #[error("the batch is lighter than its sample: a short bag, or the two are swapped")]
    LighterThanSample,
    #[error(
        "the variation of single pieces is not known: the usual 1 % was taken (common practice, no source)"
    )]
    UsualVariation,
    #[error(
        "the sample weighings are too few or too coarse to show how little pieces vary: the usual 1 % was taken (common practice, no source)"
    )]
    FewWeighings,
    #[error("the scale's resolution is not stated: taken from the digits as written")]
    ResolutionAsWritten,
}

/// Why a weighing gives no count. The item stays not counted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Unweighable {
    #[error("no sample")]
    NoSample,
    #[error("a sample of {0}: one piece tells nothing of the others")]
    SampleTooSmall(u64),
    #[error("the sample weighs {} g", short(*.0))]
    SampleWeight(f64),
    #[error("the batch weighs {} g{}", short(*.net), less(*.gross, *.tare))]
    BatchWeight { gross: f64, tare: f64, net: f64 },
    #[error("the batch weighs less than half a piece")]
    LessThanAPiece,
    #[error("over {MOST} pieces")]
    TooMany,
    #[error("a variation of {} %", short(.0 * 100.0))]
    Variation(f64),
}

/// To three decimals, without trailing noise.
fn short(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// How a net weight came about, where there is a tare.
fn less(gross: f64, tare: f64) -> String {
    match tare == 0.0 {
        true => String::new(),
        false => format!(" net ({} g less a tare of {} g)", short(gross), short(tare)),
    }
}

impl Unweighable {
    /// What to do about it.
    pub fn todo(&self) -> &'static str {
        match self {
            Unweighable::NoSample | Unweighable::SampleTooSmall(_) => {
                "count out at least 2 pieces, better 20, and weigh them together"
            }
            Unweighable::SampleWeight(_) => "zero the scale and weigh the sample again",
            Unweighable::BatchWeight { .. } => "check the tare and weigh the batch again",
            Unweighable::LessThanAPiece | Unweighable::TooMany => {
                "check the units, and that sample and batch are of the same item"
            }
            Unweighable::Variation(_) => {
                "give the standard deviation of single pieces in percent of their mean, above 0 and below 50"
            }
        }
    }
}

impl Weighing {
    /// Counts the batch.
    ///
    /// # Errors
    /// No sample or one of a single piece, a weight that is not above zero, a variation out of range.
    pub fn count(&self) -> Result<Count, Unweighable> {
        let pieces = self.pieces()?;
        let weight: f64 = self.samples.iter().map(|s| s.weight.grams).sum();
        let tare = self.tare.map_or(0.0, |tare| tare.grams);
        let net = self.batch.grams - tare;
        if net <= 0.0 {
            return Err(Unweighable::BatchWeight {
                gross: self.batch.grams,
                tare,
                net,
            });
        }
        let piece = weight / pieces as f64;
        let estimate = net / piece;
        if estimate < 0.5 {
            return Err(Unweighable::LessThanAPiece);
        }
        if estimate > MOST {
            return Err(Unweighable::TooMany);
        }
        let mut doubts = Vec::new();
        let (variation, variation_from) = self.variation(piece, &mut doubts)?;
        if self.resolution_as_written() {
            doubts.push(WeighDoubt::ResolutionAsWritten);
        }
        if net < weight {
            doubts.push(WeighDoubt::LighterThanSample);
        }

        let batch_steps: Vec<f64> = std::iter::once(self.batch)
            .chain(self.tare)
            .map(|weight| weight.resolution / piece)
            .collect();
        let sample_steps: Vec<f64> = self
            .samples
            .iter()
            .map(|sample| sample.weight.resolution / piece)
            .collect();
        let law = |count: f64, sample: f64, sample_steps: &[f64]| {
            let variance = variation.powi(2) * (count + count.powi(2) / sample);
            let grown = sample_steps.iter().map(|step| step * count / sample);
            Law::new(
                variance,
                batch_steps
                    .iter()
                    .copied()
                    .chain(grown)
                    .map(|step| step / 2.0),
            )
        };

        let nearest = estimate.round().max(1.0);
        let here = law(nearest, pieces as f64, &sample_steps);
        let standard_error = here.standard_deviation();
        let chance_exact = here.within(0.5);
        if (estimate - nearest).abs() > MISFIT * standard_error {
            doubts.push(WeighDoubt::FitsNoCount);
        } else if chance_exact >= SURE {
            let law = |count| law(count, pieces as f64, &sample_steps);
            if chance_beside_neighbours(estimate, nearest, law) < SURE {
                doubts.push(WeighDoubt::BetweenCounts {
                    below: estimate as u64,
                });
            }
        }
        // A sample of that size in one weighing, on the scale of the coarsest sample weighing.
        let step = sample_steps.iter().copied().fold(0.0, f64::max);
        let sample_needed = smallest(2, (nearest as u64).max(pieces), |sample| {
            law(nearest, sample as f64, &[step]).within(0.5) >= SURE
        });
        Ok(Count {
            count: nearest as u64,
            estimate,
            standard_error,
            chance_exact,
            sample_needed,
            variation,
            variation_from,
            piece_grams: piece,
            sample_pieces: pieces,
            doubts,
        })
    }

    /// Pieces of all samples together.
    fn pieces(&self) -> Result<u64, Unweighable> {
        if self.samples.is_empty() {
            return Err(Unweighable::NoSample);
        }
        let pieces = self
            .samples
            .iter()
            .map(|s| s.pieces)
            .fold(0, u64::saturating_add);
        if pieces < 2 {
            return Err(Unweighable::SampleTooSmall(pieces));
        }
        for sample in &self.samples {
            if sample.pieces == 0 {
                return Err(Unweighable::SampleTooSmall(0));
            }
            if sample.weight.grams <= 0.0 {
                return Err(Unweighable::SampleWeight(sample.weight.grams));
            }
        }
        if pieces as f64 > MOST {
            return Err(Unweighable::TooMany);
        }
        Ok(pieces)
    }

    fn variation(
        &self,
        piece: f64,
        doubts: &mut Vec<WeighDoubt>,
    ) -> Result<(f64, VariationFrom), Unweighable> {
        if let Some(variation) = self.variation {
            if !(variation > 0.0 && variation < 0.5) {
                return Err(Unweighable::Variation(variation));
            }
            return Ok((variation, VariationFrom::Given));
        }
        let weighings = self.samples.len();
        if weighings < 2 {
            doubts.push(WeighDoubt::UsualVariation);
            return Ok((USUAL_VARIATION, VariationFrom::Usual));
        }
        // A sample of n pieces varies by n times the variance of one, and by the scale's step.
        let (mut between, mut scale) = (0.0, 0.0);
        for sample in &self.samples {
            let pieces = sample.pieces as f64;
            between += pieces * (sample.weight.grams / pieces - piece).powi(2);
            scale += sample.weight.resolution.powi(2) / 12.0 / pieces;
        }
        let variance = between / (weighings - 1) as f64 - scale / weighings as f64;
        let shown = variance.max(0.0).sqrt() / piece;
        if shown >= 0.5 {
            return Err(Unweighable::Variation(shown));
        }
        if shown < USUAL_VARIATION && (weighings < ENOUGH_WEIGHINGS || shown == 0.0) {
            doubts.push(WeighDoubt::FewWeighings);
            return Ok((USUAL_VARIATION, VariationFrom::Usual));
        }
        Ok((shown, VariationFrom::Samples))
    }

    fn resolution_as_written(&self) -> bool {
        let samples = self.samples.iter().map(|sample| sample.weight);
        samples
            .chain([self.batch])
            .chain(self.tare)
            .any(|weight| weight.as_written)
    }
}

/// The chance that `nearest` is the true count and neither neighbour is, each as likely beforehand.
fn chance_beside_neighbours(estimate: f64, nearest: f64, law: impl Fn(f64) -> Law) -> f64 {
    let likelihood = |count: f64| law(count).density(estimate - count).max(0.0);
    let this = likelihood(nearest);
    let below = match nearest > 1.0 {
        true => likelihood(nearest - 1.0),
        false => 0.0,
    };
    this / (this + below + likelihood(nearest + 1.0))
}

/// The smallest number from `first` to `last` that passes, of a test that larger numbers pass more
/// easily.
fn smallest(first: u64, last: u64, passes: impl Fn(u64) -> bool) -> Option<u64> {
    if last < first || !passes(last) {
        return None;
    }
    let (mut low, mut high) = (first, last);
    while low < high {
        let middle = low + (high - low) / 2;
        match passes(middle) {
            true => high = middle,
            false => low = middle + 1,
        }
    }
    Some(low)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grams(grams: f64, resolution: f64) -> Weight {
        Weight {
            grams,
            resolution,
            as_written: false,
        }
    }

    fn weighing(pieces: u64, sample: f64, batch: f64, resolution: f64, variation: f64) -> Weighing {
        Weighing {
            samples: vec![Sample {
                pieces,
                weight: grams(sample, resolution),
            }],
            batch: grams(batch, resolution),
            tare: None,
            variation: Some(variation),
        }
    }

    #[track_caller]
    fn near(found: f64, expected: f64, tolerance: f64) {
        assert!(
            (found - expected).abs() <= tolerance,
            "{found} is not {expected}"
        );
    }

    #[test]
    fn a_batch_is_counted() {
        let count = weighing(25, 500.0, 4000.0, 0.1, 0.005)
            .count()
            .expect("a count");
        assert_eq!(count.count, 200);
        // By hand: 200^2 * 0.005^2 / 25 + 200 * 0.005^2 = 0.045, and the scale: steps of 1/200 of a
        // piece, the sample's eight times as large: (1 + 64) / 12 / 200^2 = 0.000135.
        near(count.standard_error, 0.045_135f64.sqrt(), 1e-6);
        // Abramowitz and Stegun, table 26.1, at 0.5 / 0.2124 = 2.354: 2 * 0.990_71 - 1.
        near(count.chance_exact, 0.981_4, 2e-4);
        assert_eq!(count.variation_from, VariationFrom::Given);
        assert_eq!(count.doubts, []);
    }

    #[test]
    fn a_figure_between_two_counts_is_a_doubt() {
        let on = weighing(25, 500.0, 2000.0, 0.01, 0.008)
            .count()
            .expect("a count");
        let between = weighing(25, 500.0, 2009.0, 0.01, 0.008)
            .count()
            .expect("a count");
        assert_eq!((on.count, between.count), (100, 100));
        assert_eq!((on.is_sure(), &on.doubts), (true, &vec![]));
        assert_eq!(between.doubts, [WeighDoubt::BetweenCounts { below: 100 }]);
        assert!(!between.is_sure());
    }

    #[test]
    fn the_sample_needed_is_the_smallest_that_is_sure() {
        let count = weighing(5, 100.0, 2000.0, 0.1, 0.01)
            .count()
            .expect("a count");
        assert!(!count.is_sure());
        let needed = count.sample_needed.expect("a sample size");
        let chance = |sample: u64| {
            let variance = 0.01f64.powi(2) * (100.0 + 10_000.0 / sample as f64);
            let step = 0.1 / 20.0;
            Law::new(variance, [step / 2.0, step / 2.0 * 100.0 / sample as f64]).within(0.5)
        };
        assert!(
            chance(needed) >= SURE && chance(needed - 1) < SURE,
            "{needed}"
        );
        // The batch's own pieces vary by more than half a piece: no sample helps.
        let hopeless = weighing(20, 400.0, 200_000.0, 1.0, 0.02)
            .count()
            .expect("a count");
        assert_eq!(hopeless.sample_needed, None);
    }

    #[test]
    fn a_short_bag_is_lighter_than_its_sample() {
        let count = weighing(50, 1000.0, 160.0, 0.1, 0.01)
            .count()
            .expect("a count");
        assert_eq!(
            (count.count, count.doubts),
            (8, vec![WeighDoubt::LighterThanSample])
        );
    }

    #[test]
    fn a_weight_that_fits_no_count_is_a_doubt() {
        let count = weighing(50, 1000.0, 188.0, 0.01, 0.005)
            .count()
            .expect("a count");
        assert!(count.doubts.contains(&WeighDoubt::FitsNoCount));
        assert!(!count.is_sure());
    }

    #[test]
    fn several_samples_show_the_variation() {
        let sample = |weight| Sample {
            pieces: 10,
            weight: grams(weight, 0.1),
        };
        let mut weighing = weighing(10, 200.0, 4000.0, 0.1, 0.01);
        weighing.variation = None;
        let usual = weighing.count().expect("a count");
        assert_eq!(usual.variation_from, VariationFrom::Usual);
        assert_eq!(usual.doubts, [WeighDoubt::UsualVariation]);
        weighing.samples = [197.0, 203.0, 199.0, 201.0, 200.0].map(sample).to_vec();
        let shown = weighing.count().expect("a count");
        assert_eq!(shown.variation_from, VariationFrom::Samples);
        // By hand: the samples' variance is 5 g2, a piece's 0.5 g2, of a mean of 20 g.
        near(shown.variation, 0.5f64.sqrt() / 20.0, 1e-4);
    }

    proptest::proptest! {
        /// Without errors of scale or pieces, the count is the true one, and a steadier
        /// piece, a larger sample or a finer scale never makes it less sure.
        #[test]
        fn a_true_batch_is_counted_true(
            pieces in 2u64..200,
            batch in 1u64..2000,
            piece in 0.1f64..5000.0,
            variation in 0.001f64..0.1,
            step in 0.0001f64..1.0,
        ) {
            let count = |pieces: u64, step: f64, variation: f64| {
                let sample = piece * pieces as f64;
                weighing(pieces, sample, piece * batch as f64, step * piece, variation)
                    .count()
                    .expect("a count")
            };
            let counted = count(pieces, step, variation);
            proptest::prop_assert_eq!(counted.count, batch);
            for better in [
                count(pieces * 2, step, variation),
                count(pieces, step / 2.0, variation),
                count(pieces, step, variation / 2.0),
            ] {
                proptest::prop_assert!(better.standard_error <= counted.standard_error);
                // Parts of the law that change from even to normal shift the chance a little.
                proptest::prop_assert!(better.chance_exact >= counted.chance_exact - 0.003);
            }
            if let Some(needed) = counted.sample_needed {
                proptest::prop_assert!(needed <= batch.max(pieces));
            }
        }
    }

    #[track_caller]
    fn refused(weighing: &Weighing, expected: Unweighable) {
        assert_eq!(weighing.count(), Err(expected));
    }

    #[test]
    fn what_cannot_be_counted_is_refused() {
        refused(
            &weighing(1, 20.0, 200.0, 0.1, 0.01),
            Unweighable::SampleTooSmall(1),
        );
        refused(
            &weighing(10, 0.0, 200.0, 0.1, 0.01),
            Unweighable::SampleWeight(0.0),
        );
        refused(
            &weighing(10, 200.0, 5.0, 0.1, 0.01),
            Unweighable::LessThanAPiece,
        );
        refused(&weighing(10, 1e-9, 1e9, 0.1, 0.01), Unweighable::TooMany);
        refused(
            &weighing(10, 200.0, 400.0, 0.1, 0.0),
            Unweighable::Variation(0.0),
        );
        let mut emptied = weighing(10, 200.0, 400.0, 0.1, 0.01);
        emptied.tare = Some(grams(400.0, 0.1));
        refused(
            &emptied,
            Unweighable::BatchWeight {
                gross: 400.0,
                tare: 400.0,
                net: 0.0,
            },
        );
        emptied.samples.clear();
        refused(&emptied, Unweighable::NoSample);
    }
}
