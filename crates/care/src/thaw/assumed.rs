//! What is around prey on its way from the freezer to the tongs: as it was told, else as the data take it.

use records::facts::Thawing as Way;

use super::lot::{self, Lot};
use crate::answer::SourceRef;
use crate::lines;
use crate::what_if::{Range, Unit};

/// A value, told or taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// Between what it lies; one value where it was told.
    pub range: Range,
    /// Was it told?
    pub is_told: bool,
}

impl Taken {
    /// As it was told, else the range of a general rule.
    pub(super) fn told_or(told: Option<f64>, rule: &str) -> Taken {
        match told {
            Some(value) => Taken { range: Range::exactly(value), is_told: true },
            None => Taken { range: lot::taken(rule).0, is_told: false },
        }
    }
}

/// What is around prey. Temperatures in °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// The freezer.
    pub freezer_c: Taken,
    /// The refrigerator.
    pub fridge_c: Taken,
    /// The cool water.
    pub cool_c: Taken,
    /// The warm bath as it is drawn.
    pub water_c: Taken,
    /// The room.
    pub room_c: Taken,
    /// Water of a bath for all prey together, l; as much as it needs where it is not told.
    pub water_l: Option<f64>,
    /// Is the prey in a bag while it is in water?
    pub is_bagged: bool,
    /// Do the pieces lie on each other while they thaw?
    pub is_stacked: bool,
}

impl Assumed {
    /// Nothing was told.
    pub fn usual() -> Assumed {
        Assumed {
            freezer_c: Taken::told_or(None, "thaw_freezer"),
            fridge_c: Taken::told_or(None, "thaw_fridge"),
            cool_c: Taken::told_or(None, "thaw_cool_water"),
            water_c: Taken::told_or(None, "thaw_bath"),
            room_c: Taken::told_or(None, "thaw_room"),
            water_l: None,
            is_bagged: true,
            is_stacked: false,
        }
    }

    /// The medium in which prey thaws, with the rule that it is taken from and its field.
    pub(super) fn around(&self, way: Way) -> (Taken, &'static str, &'static str) {
        match way {
            Way::CoolWater => (self.cool_c, "thaw_cool_water", "cool_c"),
            Way::Room => (self.room_c, "thaw_room", "room_c"),
            Way::WarmWater | Way::HotWater => (self.water_c, "thaw_bath", "water_c"),
            Way::Fridge | Way::Microwave => (self.fridge_c, "thaw_fridge", "fridge_c"),
        }
    }

    fn in_water(&self, is_cool: bool) -> (Range, SourceRef) {
        let group = match (self.is_bagged, is_cool) {
            (false, _) => "bare",
            (true, true) => "bag in cool water",
            (true, false) => "bag in warm water",
        };
        lot::group_taken("thaw_film_water", group)
    }

    fn film(&self, way: Way) -> (Range, SourceRef) {
        match way {
            Way::CoolWater => self.in_water(true),
            Way::WarmWater | Way::HotWater => self.in_water(false),
            Way::Room => lot::taken("thaw_film_room"),
            Way::Fridge | Way::Microwave => lot::taken("thaw_film_fridge"),
        }
    }
}

/// One value of everything that thawing depends on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    pub mass_g: f64,
    pub elongation: f64,
    pub thickest_cm: Option<f64>,
    pub freezer_c: f64,
    /// In what it thaws, °C.
    pub around_c: f64,
    /// Film while it thaws, W/(m²·K).
    pub film_thaw: f64,
    pub water_c: f64,
    pub film_bath: f64,
    pub room_c: f64,
    pub film_air: f64,
    /// Heat that a bath loses, W/K for l^(2/3).
    pub loss: f64,
}

/// One thing that the answer depends on and that is not known exactly.
pub(super) struct Input {
    pub key: &'static str,
    pub says: &'static str,
    pub range: Range,
    pub unit: Unit,
    pub source: SourceRef,
    pub field: Option<&'static str>,
    pub set: fn(&mut Setting, f64),
    /// The end at which thawing takes longer; `None` where it changes nothing before the bath.
    pub slow: Option<End>,
}

/// An end of a range.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    Low,
    High,
}

impl Input {
    pub fn at(&self, end: End) -> f64 {
        match end {
            End::Low => self.range.low,
            End::High => self.range.high,
        }
    }
}

/// The middle of everything, and what is not known exactly.
pub(super) fn of(lot: &Lot, assumed: &Assumed, way: Way) -> (Setting, Vec<Input>) {
    let (around, around_rule, around_field) = assumed.around(way);
    let ((elongation, shape_source), (film_thaw, film_source)) = (lot.elongation(), assumed.film(way));
    let (film_bath, bath_source) = assumed.in_water(false);
    let (film_air, air_source) = lot::taken("thaw_film_offer");
    let (loss, loss_source) = lot::taken("thaw_bath_loss");
    let setting = Setting {
        mass_g: lot.mass_g.mid,
        elongation: elongation.mid,
        thickest_cm: lot.thickest_cm,
        freezer_c: assumed.freezer_c.range.mid,
        around_c: around.range.mid,
        film_thaw: film_thaw.mid,
        water_c: assumed.water_c.range.mid,
        film_bath: film_bath.mid,
        room_c: assumed.room_c.range.mid,
        film_air: film_air.mid,
        loss: loss.mid,
    };
    let straight_into_warm = matches!(way, Way::WarmWater | Way::HotWater);
    let mut inputs = Vec::new();
    let mut add = |key, says, range: Range, unit, source, field, set: fn(&mut Setting, f64), slow| {
        if range.low < range.high {
            inputs.push(Input { key, says, range, unit, source, field, set, slow });
        }
    };
    let mass_source = lot.class.and_then(lot::class_mass_g).map_or_else(|| lines::source("thaw_prey_mass"), |it| it.1);
    add(
        "mass",
        "mass of one item",
        lot.mass_g,
        Unit::Grams,
        mass_source,
        Some("prey"),
        |s, x| s.mass_g = x,
        Some(End::High),
    );
    if lot.thickest_cm.is_none() {
        let says = "length of the body as a multiple of its thickness";
        add(
            "shape",
            says,
            elongation,
            Unit::Number,
            shape_source,
            Some("diameter_cm"),
            |s, x| s.elongation = x,
            Some(End::Low),
        );
    }
    let source = lines::source("thaw_freezer");
    add(
        "freezer",
        "the freezer",
        assumed.freezer_c.range,
        Unit::Celsius,
        source,
        Some("freezer_c"),
        |s, x| s.freezer_c = x,
        Some(End::Low),
    );
    if !straight_into_warm {
        let (says, film_says) = match way {
            Way::CoolWater => ("the cool water", "heat that cool water gives to the prey, W/(m²·K)"),
            Way::Room => ("the room", "heat that room air gives to the prey, W/(m²·K)"),
            _ => ("the refrigerator", "heat that its air gives to the prey, W/(m²·K)"),
        };
        let set: fn(&mut Setting, f64) = match way {
            Way::Room => |s, x| (s.around_c, s.room_c) = (x, x),
            _ => |s, x| s.around_c = x,
        };
        add(
            "around",
            says,
            around.range,
            Unit::Celsius,
            lines::source(around_rule),
            Some(around_field),
            set,
            Some(End::Low),
        );
        add("film", film_says, film_thaw, Unit::Number, film_source, None, |s, x| s.film_thaw = x, Some(End::Low));
    }
    let slow = straight_into_warm.then_some(End::Low);
    let source = lines::source("thaw_bath");
    add(
        "bath",
        "the warm bath as it is drawn",
        assumed.water_c.range,
        Unit::Celsius,
        source,
        Some("water_c"),
        |s, x| s.water_c = x,
        slow,
    );
    let says = "heat that the warm bath gives to the prey, W/(m²·K)";
    add("bath-film", says, film_bath, Unit::Number, bath_source, None, |s, x| s.film_bath = x, slow);
    let says = "heat that the bowl loses to the room, W/K for each l^(2/3)";
    add("bath-loss", says, loss, Unit::Number, loss_source, None, |s, x| s.loss = x, None);
    if way != Way::Room {
        let source = lines::source("thaw_room");
        add("room", "the room", assumed.room_c.range, Unit::Celsius, source, Some("room_c"), |s, x| s.room_c = x, None);
    }
    let says = "heat that the warm prey loses to the room, W/(m²·K)";
    add("air-film", says, film_air, Unit::Number, air_source, None, |s, x| s.film_air = x, None);
    (setting, inputs)
}
