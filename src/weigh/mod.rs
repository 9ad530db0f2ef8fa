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
mod refusal;
pub mod sheet;
#[cfg(test)]
mod tests;
mod weight;

pub use refusal::{Unweighable, WeighDoubt};
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
        self.chance_exact >= SURE && self.is_whole()
    }

    /// True where the weight is one of a whole number of pieces; where not, no chance tells how good it is.
    pub fn is_whole(&self) -> bool {
        let between = |doubt: &WeighDoubt| {
            matches!(
                doubt,
                WeighDoubt::FitsNoCount | WeighDoubt::BetweenCounts { .. }
            )
        };
        !self.doubts.iter().any(between)
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
