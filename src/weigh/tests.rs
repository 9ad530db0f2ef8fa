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
