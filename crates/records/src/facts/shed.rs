//! Sheds: one cycle from dull to off, and how it came off.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::Reader;

choices!(
    /// Old skin that stayed on.
    Retained, "place where skin stayed on", {
        LeftEyeCap = "left-eye-cap", RightEyeCap = "right-eye-cap", TailTip = "tail-tip", Body = "body",
    }
);

/// One cycle of shedding, or one step of it; steps of the same cycle are joined in the timeline.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shed {
    /// Colours went dull.
    pub dull_at: Option<When>,
    /// Eyes went milky.
    pub blue_at: Option<When>,
    /// Eyes cleared again.
    pub cleared_at: Option<When>,
    /// Skin off (or as far as it came off).
    pub shed_at: Option<When>,
    /// In how many pieces; one is a whole skin.
    pub pieces: Option<u32>,
    /// What stayed on.
    pub retained: Vec<Retained>,
}

impl Shed {
    /// The dates that are known, in the order of the cycle.
    pub fn steps(&self) -> impl Iterator<Item = When> {
        [self.dull_at, self.blue_at, self.cleared_at, self.shed_at].into_iter().flatten()
    }
}

impl Recorded for Shed {
    fn read(reader: &mut Reader<'_>) -> Option<Shed> {
        let shed = Shed {
            dull_at: reader.day("dull_at"),
            blue_at: reader.day("blue_at"),
            cleared_at: reader.day("cleared_at"),
            shed_at: reader.day("shed_at"),
            pieces: reader.count("pieces", 1, 500),
            retained: reader.choices("retained"),
        };
        if shed.steps().next().is_none() {
            if !reader.is_faulty() {
                reader.object("shed_at", "a shed needs a date", "add dull_at, blue_at, cleared_at or shed_at");
            }
            return None;
        }
        if shed.shed_at.is_none() && (shed.pieces.is_some() || !shed.retained.is_empty()) {
            reader.object("shed_at", "`pieces` and `retained` belong to a skin that is off", "add shed_at");
            return None;
        }
        let mut steps = shed.steps();
        let mut last = steps.next();
        for step in steps {
            if last.is_some_and(|last| step.to < last.from) {
                reader.object(
                    "shed_at",
                    "the steps of the shed are not in order",
                    "dull comes before blue, blue before cleared, cleared before shed",
                );
                return None;
            }
            last = Some(step);
        }
        Some(shed)
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("dull_at", self.dull_at);
        sheet.when("blue_at", self.blue_at);
        sheet.when("cleared_at", self.cleared_at);
        sheet.when("shed_at", self.shed_at);
        sheet.number("pieces", self.pieces.map(f64::from));
        sheet.choices("retained", &self.retained);
    }
    fn when(&self) -> Option<When> {
        self.steps().last()
    }
}
