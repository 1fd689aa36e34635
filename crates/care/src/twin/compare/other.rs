//! The second enclosure: what is told of it under `other_`, the rest as the first.

use records::facts::Enclosure;
use records::{Fault, Fields, Raw};

use crate::what_if::{Field, Group, Known};

/// Fields of a description that may differ, each with its name for the second and its label there.
const OTHERS: [(&str, &str, &str); 16] = [
    ("length_cm", "other_length_cm", "Second: length inside"),
    ("width_cm", "other_width_cm", "Second: width"),
    ("height_cm", "other_height_cm", "Second: height"),
    ("material", "other_material", "Second: material of the walls"),
    ("thickness_mm", "other_thickness_mm", "Second: thickness of the walls"),
    ("lid", "other_lid", "Second: lid"),
    ("lid_covered_pct", "other_lid_covered_pct", "Second: mesh covered"),
    ("stands_on", "other_stands_on", "Second: stands on"),
    ("substrate", "other_substrate", "Second: substrate"),
    ("substrate_cm", "other_substrate_cm", "Second: depth of the substrate"),
    ("bowl_cm", "other_bowl_cm", "Second: diameter of the bowl"),
    ("heater", "other_heater", "Second: heater"),
    ("watts", "other_watts", "Second: watts"),
    ("thermostat", "other_thermostat", "Second: thermostat"),
    ("set_c", "other_set_c", "Second: set point"),
    ("probe", "other_probe", "Second: probe of the thermostat"),
];

/// What a field of the first says nothing of once another one is told for the second.
const HANGS_ON: [(&str, &str); 3] =
    [("thickness_mm", "other_material"), ("lid_covered_pct", "other_lid"), ("substrate_cm", "other_substrate")];

/// The name of a field for the second.
pub(super) fn of_second(key: &str) -> Option<&'static str> {
    OTHERS.iter().find(|(first, _, _)| *first == key).map(|(_, other, _)| *other)
}

/// The fields for the second, made of those for the first.
pub(super) fn fields(first: &[Field]) -> Vec<Field> {
    let of = |(key, other, label): &(&str, &'static str, &'static str)| {
        let field = first.iter().find(|field| field.key == *key)?;
        Some(Field { key: other, label, hint: "", group: Group::Second, ..*field })
    };
    OTHERS.iter().filter_map(of).collect()
}

/// Is anything told of the second?
pub(super) fn is_told(fields: &dyn Fields) -> bool {
    OTHERS.iter().any(|(_, other, _)| fields.value(other).is_some())
}

/// What is told of the first.
pub(super) struct First<'a>(pub(super) &'a dyn Fields);

impl Fields for First<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        self.0.value(key)
    }

    fn keys(&self) -> Vec<String> {
        let is_others = |key: &String| OTHERS.iter().any(|(_, other, _)| other == key);
        self.0.keys().into_iter().filter(|key| !is_others(key)).collect()
    }

    fn place(&self, key: &str) -> String {
        self.0.place(key)
    }
}

/// What is told of the second.
pub(super) struct Second<'a>(pub(super) &'a dyn Fields);

impl Second<'_> {
    fn told(&self, key: &str) -> Option<&'static str> {
        of_second(key).filter(|other| self.0.value(other).is_some())
    }

    /// Does what the first says of it no longer hold?
    fn is_void(&self, key: &str) -> bool {
        HANGS_ON.iter().any(|(hangs, on)| *hangs == key && self.0.value(on).is_some())
    }

    /// What is on record, without what no longer holds.
    pub(super) fn known(&self, known: &Known) -> Known {
        let mut known = known.clone();
        if let Some(place) = &mut known.place {
            let kept = |key: &str| !self.is_void(key);
            let enclosure = &mut place.enclosure;
            *enclosure = Enclosure {
                thickness_mm: enclosure.thickness_mm.filter(|_| kept("thickness_mm")),
                lid_covered_pct: enclosure.lid_covered_pct.filter(|_| kept("lid_covered_pct")),
                substrate_cm: enclosure.substrate_cm.filter(|_| kept("substrate_cm")),
                ..enclosure.clone()
            };
        }
        known
    }

    /// A fault with the name that the keeper typed.
    pub(super) fn named(&self, mut fault: Fault) -> Fault {
        for (key, other, _) in OTHERS {
            if self.told(key).is_some() {
                fault.what = fault.what.replace(&format!("`{key}`"), &format!("`{other}`"));
            }
        }
        fault
    }
}

impl Fields for Second<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        match self.told(key) {
            Some(other) => self.0.value(other),
            None if self.is_void(key) => None,
            None => self.0.value(key),
        }
    }

    fn keys(&self) -> Vec<String> {
        First(self.0).keys()
    }

    fn place(&self, key: &str) -> String {
        self.0.place(self.told(key).unwrap_or(key))
    }
}
