//! What is no part of the claim, and why.

use crate::{names::names, settle::Rows};

names! {
    /// Why something is no part of the claim.
    pub enum Omission {
        NotCounted = "not counted: taken to be there as the slip lists them",
        NotKnown = "neither counted nor on a slip: count it first",
        FigureUnread = "a slip or a count names it, and its figure was not read: read it first",
        SlipUnmet = "a slip names nothing that the lists ask for: join its names or numbers first",
        Unopened = "perhaps in a bag or a kit that a slip lists as one: ask what is in it first",
        CountedTwice = "counted on several rows that name no bags apart: settle what is there first",
        AskedTwice = "the list may ask for it twice: settle the sheets first",
        MayBeSame = "perhaps the same as another item by other words: settle that first",
        CountDoubted = "over, by a line of the count that is in doubt: settle what that line says first",
        OtherKits = "over, and so are most others, as many times what is required: settle for how many kits it is first",
        BuiltStages = "a stage that is built uses it, and it was perhaps counted before that: settle when it was counted first",
        ComesAlong = "comes with another item, which the slip may name alone: look there first",
        CountUndated = "perhaps in a parcel that came after the count: date the count first",
        OtherBags = "counted in bags that no slip names so: count every bag first",
        OneOfSeveral = "named in words that fit another item as well: settle which of them it is first",
        NumberInDoubt = "a line may mean another number of pieces: settle the lines to check first",
        FromSentences = "on no list, and sentences may ask for more than was read of them: hold them against a parts list first",
        CountBrokenOff = "short by what was counted so far: count every bag first",
        NotProved = "short, but neither slip nor count proves it: count it first",
        DamagedBeyond = "damaged, but enough good ones are there",
        Closed = "substituted, and held for delivered by the approver",
        StandsIn = "delivered, and in use as a substitute",
        Spares = "spares by our own policy",
        SoldSeparately = "sold separately, not part of the kit",
        Consumable = "consumable, not counted by the piece",
        ComesFitted = "comes fitted on another part: look for it there",
        NotChosen = "belongs to an option that is not built",
        AsRequired = "as required: the list states no number",
        NoQuantity = "the list states no quantity",
        NotUnderstood = "the line was not understood",
    }
}

/// What is no part of the claim.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    pub what: String,
    /// `None` where no number is stated.
    pub pieces: Option<u64>,
    pub why: Omission,
    pub evidence: Rows,
}
