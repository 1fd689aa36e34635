//! Meals: prey offered once, with its outcome. A refusal is a meal too.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::{Limits, Reader};

choices!(
    /// Classes of prey. Masses of a class differ between sellers: grams come first, the class is an extra.
    Prey, "class of prey", {
        MousePinky = "mouse-pinky", MouseFuzzy = "mouse-fuzzy", MouseHopper = "mouse-hopper",
        MouseWeaned = "mouse-weaned", MouseAdult = "mouse-adult", MouseJumbo = "mouse-jumbo",
        RatPinky = "rat-pinky", RatFuzzy = "rat-fuzzy", RatPup = "rat-pup", RatWeaned = "rat-weaned",
        RatSmall = "rat-small", RatMedium = "rat-medium", RatLarge = "rat-large", RatJumbo = "rat-jumbo",
        SoftFurredRat = "soft-furred-rat", Gerbil = "gerbil", Rabbit = "rabbit", Chick = "chick",
        QuailDayOld = "quail-day-old", QuailJuvenile = "quail-juvenile", QuailAdult = "quail-adult",
        Fish = "fish", Earthworm = "earthworm", Lizard = "lizard", Other = "other",
    }
);

choices!(
    /// What became of a meal.
    Outcome, "outcome of a meal", {
        /// Eaten.
        Taken = "taken",
        /// Offered and not taken.
        Refused = "refused",
        /// Put down and not eaten.
        Left = "left",
        /// Gone, and nobody saw it eaten.
        Unseen = "unseen",
        /// Eaten and brought up again.
        Regurgitated = "regurgitated",
    }
);

choices!(
    /// In what state prey was offered.
    PreyState, "state of prey", { FrozenThawed = "frozen-thawed", FreshKilled = "fresh-killed", Live = "live" }
);

choices!(
    /// How prey was thawed.
    Thawing, "way of thawing", {
        Fridge = "fridge", CoolWater = "cool-water", WarmWater = "warm-water", HotWater = "hot-water", Room = "room",
        Microwave = "microwave",
    }
);

const ITEM_MASS_G: Limits = Limits::new(0.05, 50_000.0, "grams");
const SURFACE_C: Limits = Limits::new(-30.0, 120.0, "°C");
const MINUTES: Limits = Limits::new(0.0, 20_160.0, "minutes");

/// Prey offered once, with its outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct Meal {
    /// When it was offered.
    pub at: When,
    /// Class of prey.
    pub prey: Option<Prey>,
    /// Mass of one item, in g.
    pub mass_g: Option<f64>,
    /// How many items.
    pub count: u32,
    /// What became of it.
    pub outcome: Outcome,
    /// When it came up again.
    pub regurgitated_at: Option<When>,
    /// In what state it was offered.
    pub state: Option<PreyState>,
    /// Temperature of its surface when offered, in °C.
    pub surface_c: Option<f64>,
    /// How long it was left with the animal, in minutes.
    pub minutes_left: Option<f64>,
    /// How it was thawed.
    pub thawed: Option<Thawing>,
    /// Since when it was frozen.
    pub frozen_on: Option<When>,
    /// Thawed, frozen again and thawed once more.
    pub refrozen: bool,
}

impl Meal {
    /// Mass of all items together, in g, where one is known.
    pub fn total_g(&self) -> Option<f64> {
        self.mass_g.map(|one| one * f64::from(self.count))
    }

    /// Is it known to have been swallowed (whether or not it stayed down)?
    pub fn was_eaten(&self) -> bool {
        matches!(self.outcome, Outcome::Taken | Outcome::Regurgitated)
    }
}

impl Recorded for Meal {
    fn read(reader: &mut Reader<'_>) -> Option<Meal> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let prey = reader.choice("prey");
        let mass_g = reader.number("mass_g", ITEM_MASS_G);
        let count = reader.count("count", 1, 500).unwrap_or(1);
        let outcome = reader.choice::<Outcome>("outcome");
        let outcome = reader.require("outcome", outcome);
        let regurgitated_at = reader.day("regurgitated_at");
        let meal = Meal {
            state: reader.choice("state"),
            surface_c: reader.number("surface_c", SURFACE_C),
            minutes_left: reader.number("minutes_left", MINUTES),
            thawed: reader.choice("thawed"),
            frozen_on: reader.when("frozen_on"),
            refrozen: reader.flag("refrozen").unwrap_or(false),
            at: at?,
            prey,
            mass_g,
            count,
            outcome: outcome?,
            regurgitated_at,
        };
        if let Some(up) = meal.regurgitated_at {
            if meal.outcome != Outcome::Regurgitated {
                reader.object(
                    "regurgitated_at",
                    "only a meal that came up has `regurgitated_at`",
                    "set outcome = \"regurgitated\"",
                );
            } else if up.to < meal.at.from {
                reader.object("regurgitated_at", "the meal came up before it was offered", "mend one of the two dates");
            }
        }
        Some(meal)
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("prey", self.prey);
        sheet.number("mass_g", self.mass_g);
        sheet.number("count", (self.count != 1).then_some(f64::from(self.count)));
        sheet.choice("outcome", Some(self.outcome));
        sheet.when("regurgitated_at", self.regurgitated_at);
        sheet.choice("state", self.state);
        sheet.number("surface_c", self.surface_c);
        sheet.number("minutes_left", self.minutes_left);
        sheet.choice("thawed", self.thawed);
        sheet.when("frozen_on", self.frozen_on);
        sheet.flag("refrozen", self.refrozen.then_some(true));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
