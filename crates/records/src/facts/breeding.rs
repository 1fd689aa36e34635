//! Steps of breeding.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::Reader;

choices!(
    /// A step of breeding. `laid` and the sign `laid-eggs` are the same fact.
    BreedingWhat, "step of breeding", { Paired = "paired", Gravid = "gravid", Laid = "laid", Born = "born" }
);

/// A step of breeding.
#[derive(Clone, Debug, PartialEq)]
pub struct Breeding {
    /// When.
    pub at: When,
    /// Which.
    pub what: BreedingWhat,
    /// How many eggs or young.
    pub count: Option<u32>,
}

impl Recorded for Breeding {
    fn read(reader: &mut Reader<'_>) -> Option<Breeding> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let what = reader.choice("what");
        let what = reader.require("what", what);
        let count = reader.count("count", 0, 500);
        Some(Breeding { at: at?, what: what?, count })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("what", Some(self.what));
        sheet.number("count", self.count.map(f64::from));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
