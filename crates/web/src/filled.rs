//! The fields of a question as they were typed, on the page or as options: an amount in the unit of its field, a day
//! and its hour as one.

use care::what_if::{Entry, Field, Question};
use records::{Fields, Raw};
use render::amounts;
use render::pages::form::TIME;

use crate::amount;

/// What was typed for a question.
#[derive(Clone, Debug)]
pub struct Filled {
    fields: Vec<Field>,
    pairs: Vec<(String, String)>,
    place: fn(&str) -> String,
}

impl Filled {
    /// What was typed for a question; `place` says where a field stands, in the reader's words.
    pub fn new(question: Question, pairs: Vec<(String, String)>, place: fn(&str) -> String) -> Filled {
        Filled { fields: question.fields(), pairs, place }
    }

    fn field(&self, key: &str) -> Option<&Field> {
        self.fields.iter().find(|field| field.key == key)
    }

    /// What was typed into a field, as it was typed; several values of one name as lines.
    pub fn typed(&self, key: &str) -> Option<String> {
        let values: Vec<&str> = self
            .pairs
            .iter()
            .filter(|(name, value)| name == key && !value.trim().is_empty())
            .map(|(_, value)| value.trim())
            .collect();
        (!values.is_empty()).then(|| values.join("\n"))
    }

    /// Was anything typed?
    pub fn is_empty(&self) -> bool {
        self.keys().is_empty()
    }

    /// All that was typed, for the form to come back with.
    pub fn pairs(&self) -> &[(String, String)] {
        &self.pairs
    }

    fn moment(&self, key: &str) -> Option<String> {
        match (self.typed(key), self.typed(&format!("{key}{TIME}"))) {
            (Some(date), Some(time)) if date.len() == 10 => Some(format!("{date}T{time}")),
            (date, time) => date.or(time),
        }
    }
}

impl Fields for Filled {
    fn value(&self, key: &str) -> Option<Raw> {
        let text = match self.field(key)?.entry {
            Entry::Number(unit) => amount::in_unit(&self.typed(key)?, amounts::sign(unit)),
            Entry::Moment => self.moment(key)?,
            Entry::Lines => self.typed(key)?.replace("\r\n", "\n"),
            Entry::Count | Entry::Choice(_) | Entry::Flag | Entry::Clock | Entry::Text => self.typed(key)?,
        };
        Some(Raw::Text(text))
    }

    fn keys(&self) -> Vec<String> {
        let is_typed = |field: &&Field| {
            self.typed(field.key).is_some()
                || (matches!(field.entry, Entry::Moment) && self.typed(&format!("{}{TIME}", field.key)).is_some())
        };
        self.fields.iter().filter(is_typed).map(|field| field.key.to_owned()).collect()
    }

    fn place(&self, key: &str) -> String {
        (self.place)(key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use care::what_if::{Group, Unit};

    fn filled(pairs: &[(&str, &str)]) -> Filled {
        let field = |key, entry| Field::new(key, key, entry, Group::Question);
        Filled {
            fields: vec![
                field("length_cm", Entry::Number(Unit::Centimetres)),
                field("room_c", Entry::Number(Unit::Celsius)),
                field("set_back_k", Entry::Number(Unit::Kelvin)),
                field("wall_mm", Entry::Number(Unit::Millimetres)),
                field("battery_wh", Entry::Number(Unit::WattHours)),
                field("when", Entry::Moment),
                field("prey", Entry::Lines),
            ],
            pairs: pairs.iter().map(|(key, value)| ((*key).to_owned(), (*value).to_owned())).collect(),
            place: str::to_owned,
        }
    }

    #[test]
    fn an_amount_may_be_typed_in_another_unit() {
        for (key, typed, read) in [
            ("length_cm", "48in", "121.92"),
            ("length_cm", "120", "120"),
            ("room_c", "68 °F", "20"),
            ("set_back_k", "9F", "5"),
            ("wall_mm", "0.5in", "12.7"),
            ("wall_mm", "1 cm", "10"),
            ("battery_wh", "1.2kWh", "1200"),
            ("room_c", "cold", "cold"),
        ] {
            assert_eq!(filled(&[(key, typed)]).value(key), Some(Raw::Text(read.to_owned())), "{typed}");
        }
    }

    #[test]
    fn a_day_and_its_hour_are_one_and_lines_stay_lines() {
        let typed = filled(&[("when", "2027-01-20"), ("when_time", "19:30"), ("prey", "2 rat-small\r\n1 mouse-adult")]);
        assert_eq!(typed.value("when"), Some(Raw::Text("2027-01-20T19:30".into())));
        assert_eq!(typed.value("prey"), Some(Raw::Text("2 rat-small\n1 mouse-adult".into())));
        assert_eq!(typed.keys(), ["when", "prey"]);
        assert!(filled(&[("length_cm", "  "), ("enclosure", "x")]).is_empty());
    }
}
