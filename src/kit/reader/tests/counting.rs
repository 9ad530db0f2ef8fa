//! Bench counts and slips as people write them by hand: bags as such, counts within names, kits.

use super::*;

#[test]
fn bags_counted_as_such() {
    case(
        "count.txt",
        "H1 bag x3 complete\nH2 bag: 2 complete, third one open:\n10 M6 x 40 coach bolts\n",
        Counted,
        &[
            "1: - bag None [bag H1] ? bags are counted here, and not what is in them",
            "2: - bag None [bag H2] ? bags are counted here, and not what is in them",
            "3: 10 M6 x 40 carriage bolt [bag H2]",
        ],
    );
    counted(
        "Item,Good\nHardware bag H1,3\n",
        &["2: 3 bag None [bag H1] ? bags are counted here, and not what is in them"],
    );
}

#[test]
fn counts_that_stand_in_a_name() {
    case(
        "count.txt",
        "12 M8 nuts\nchains 11 good 1 kinked\nspring clips, dozen\n",
        Counted,
        &[
            "1: 12 M8 hex nut",
            "2: - chains 11 good 1 kinked [part] ? no quantity stated: not summed",
            "3: 12 spring clips ? a number behind plain words: it may be no count",
        ],
    );
}

#[test]
fn what_each_of_several_kits_has() {
    let told = "taken 3 times, for \"3 x kit S, each:\", line 2: is it each or in all?";
    case(
        "slip.txt",
        "Shipped to: the orchard\n3 x kit S, each:\nA-frame ORD 2 SHIP 2\nSeat ORD 1 SHIP 0 B/O 1\n",
        Shipped,
        &[
            &format!("3: 2 x 3 a-frame ? {told}"),
            &format!("4: 0+3 owed x 3 seat ? {told}"),
        ],
    );
}

/// A count as people write it down (common practice, no source).
#[test]
fn counts_in_words() {
    let aside = |row: u32, words: &str| {
        format!(
            "{row}: - aside: by its words it is no plain count: write good and damaged pieces apart (\"{words}\")"
        )
    };
    case(
        "count.txt",
        "M8 x 30 hex bolts 12\nposts: none\nrails missing\ncaps all here\nfeet ok\nposts twelve\nM6 nuts full bag\n",
        Counted,
        &[
            "1: 12 M8 x 30 hex bolt",
            &aside(2, "none"),
            &aside(3, "missing"),
            &aside(4, "all here"),
            &aside(5, "ok"),
            &aside(6, "twelve"),
            "7: - M6 hex nut ? no quantity stated: not summed",
        ],
    );
    counted(
        "Equipment,Sent,Returned,Remark\nGuard rail 2.5 m,16,15,cleaned\nBoard 3.9 m,30,,\n",
        &["2: 15 guard rail 2.5 m [part]", "3: - board 3.9 m [part]"],
    );
}
