//! Why a count by weight is to be looked at, or is none.

use super::MOST;

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
