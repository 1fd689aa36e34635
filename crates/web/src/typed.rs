//! A form as it was typed, and the record that it says.

use records::{Fact, Fault, Fields, Kind, Raw, Reader, RecordId};
use render::pages::form::{self, Ask, TIME};
use units::Zone;

use crate::amount;
use crate::asked::local;

/// What a form sends beside the fields of the record.
const CONTROLS: [&str; 7] = ["id", "back", "confirmed", "done", "why", "by", "shed_at_whole"];

/// A form as it was typed.
#[derive(Clone, Debug, Default)]
pub(crate) struct Typed {
    pairs: Vec<(String, String)>,
}

impl Typed {
    /// The pairs of a form.
    pub fn new(pairs: Vec<(String, String)>) -> Typed {
        Typed { pairs }
    }

    /// What was typed into a field; several values of one name as one, with commas.
    pub fn get(&self, key: &str) -> Option<String> {
        let values: Vec<&str> = self
            .pairs
            .iter()
            .filter(|(name, value)| name == key && !value.trim().is_empty())
            .map(|(_, value)| value.trim())
            .collect();
        (!values.is_empty()).then(|| values.join(","))
    }

    fn has(&self, key: &str) -> bool {
        self.pairs.iter().any(|(name, _)| name == key)
    }

    /// Puts a value in the place of what was typed.
    pub fn set(&mut self, key: &str, value: &str) {
        self.pairs.retain(|(name, _)| name != key);
        self.pairs.push((key.to_owned(), value.to_owned()));
    }

    /// Did the keeper say yes to what is odd?
    pub fn is_confirmed(&self) -> bool {
        self.get("confirmed").is_some()
    }

    /// The name that the form was made with, so that the same form sent twice writes one record.
    pub fn id(&self) -> Option<RecordId> {
        self.get("id").as_deref().and_then(RecordId::read)
    }

    /// The page to come back to.
    pub fn back(&self, otherwise: &str) -> String {
        local(self.get("back").as_deref(), otherwise)
    }

    /// Why a record is corrected or removed.
    pub fn why(&self) -> String {
        self.get("why").unwrap_or_default()
    }

    /// Fills in what a form of one tap leaves open: `now`, and the moment where the form did not ask for it.
    pub fn fill(&mut self, kind: Kind, now: &str) {
        if self.get("shed_at_whole").is_some() {
            self.set("shed_at", now);
            self.set("pieces", "1");
        }
        for (_, value) in self.pairs.iter_mut().filter(|(_, value)| value == "now") {
            *value = now.to_owned();
        }
        if kind == Kind::Meal && !self.has("count") {
            self.set("count", "1");
        }
        let asks_at = form::fields(kind).iter().any(|spec| spec.key == "at");
        if asks_at && !self.has("at") {
            self.set("at", now);
        }
    }

    /// What was typed, for the form to come back with.
    pub fn shown(&self, kind: Kind) -> Vec<(String, String)> {
        let mut shown = Vec::new();
        for spec in form::fields(kind) {
            shown.extend(self.get(spec.key).map(|value| (spec.key.to_owned(), value)));
            let time = format!("{}{TIME}", spec.key);
            shown.extend(self.get(&time).map(|value| (time, value)));
        }
        shown.extend(self.get("why").map(|why| ("why".to_owned(), why)));
        shown
    }

    /// The record that the form says, or everything that is wrong with it; `but` are further fields that are read
    /// elsewhere.
    pub fn fact(&self, kind: Kind, zone: &Zone, but: &[&str]) -> Result<Fact, Vec<Fault>> {
        let fields = FormFields { typed: self, kind, but };
        let mut reader = Reader::new(&fields, zone);
        let fact = Fact::read(kind, &mut reader);
        let faults = reader.finish();
        match fact {
            Some(fact) if faults.is_empty() => Ok(fact),
            _ => Err(faults),
        }
    }
}

/// The fields of a form: a day and its hour as one, an amount in the unit of its field.
struct FormFields<'a> {
    typed: &'a Typed,
    kind: Kind,
    but: &'a [&'a str],
}

impl FormFields<'_> {
    fn ask(&self, key: &str) -> Option<Ask> {
        form::fields(self.kind).iter().find(|spec| spec.key == key).map(|spec| spec.ask)
    }
}

impl Fields for FormFields<'_> {
    fn value(&self, key: &str) -> Option<Raw> {
        let value = self.typed.get(key);
        let text = match self.ask(key) {
            Some(Ask::Moment) => {
                let time = self.typed.get(&format!("{key}{TIME}"));
                match (value, time) {
                    (Some(date), Some(time)) if date.len() == 10 => format!("{date}T{time}"),
                    (Some(date), _) => date,
                    (None, Some(time)) => time,
                    (None, None) => return None,
                }
            }
            Some(Ask::Number(unit)) => amount::in_unit(&value?, unit),
            _ => value?,
        };
        Some(Raw::Text(text))
    }

    fn keys(&self) -> Vec<String> {
        let is_field = |key: &&String| {
            let time = key.strip_suffix(TIME).is_some_and(|own| matches!(self.ask(own), Some(Ask::Moment)));
            !time && !CONTROLS.contains(&key.as_str()) && !self.but.contains(&key.as_str())
        };
        let mut keys: Vec<String> = self.typed.pairs.iter().map(|(key, _)| key).filter(is_field).cloned().collect();
        keys.dedup();
        keys
    }

    fn place(&self, key: &str) -> String {
        key.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(pairs: &[(&str, &str)]) -> Typed {
        Typed::new(pairs.iter().map(|(key, value)| ((*key).to_owned(), (*value).to_owned())).collect())
    }

    #[test]
    fn a_day_and_its_hour_are_one_moment() {
        let zone = Zone::named("Europe/Lisbon").unwrap();
        let read = |pairs: &[(&str, &str)]| typed(pairs).fact(Kind::Seen, &zone, &[]).unwrap().when().unwrap();
        assert_eq!(zone.write_when(read(&[("at", "2026-07-14"), ("at_time", "19:30")])), "2026-07-14T19:30+01:00");
        assert_eq!(zone.write_when(read(&[("at", "2026-07-14"), ("at_time", "")])), "2026-07-14");
    }

    #[test]
    fn all_faults_are_told_at_once_at_their_fields() {
        let form = typed(&[
            ("at", ""),
            ("mass_g", "heavy"),
            ("count", "1.5"),
            ("outcome", "taken"),
            ("id", "x"),
            ("back", "/"),
        ]);
        let faults = form.fact(Kind::Meal, &Zone::none(), &[]).unwrap_err();
        let places: Vec<&str> = faults.iter().map(|fault| fault.place.as_str()).collect();
        assert_eq!(places, ["at", "mass_g", "count"]);
        assert!(form.shown(Kind::Meal).contains(&("mass_g".to_owned(), "heavy".to_owned())));
    }

    #[test]
    fn one_tap_means_now() {
        let mut form = typed(&[("outcome", "taken"), ("done", "yes")]);
        form.fill(Kind::Meal, "2026-03-14T19:30");
        assert_eq!(form.get("at").as_deref(), Some("2026-03-14T19:30"));
        let mut shed = typed(&[("shed_at_whole", "now")]);
        shed.fill(Kind::Shed, "2026-03-14T19:30");
        assert_eq!(
            (shed.get("shed_at").as_deref(), shed.get("pieces").as_deref()),
            (Some("2026-03-14T19:30"), Some("1"))
        );
        let mut open = typed(&[("at", "")]);
        open.fill(Kind::Weighing, "2026-03-14T19:30");
        assert_eq!(open.get("at"), None, "a date that was taken out is not filled in again");
    }

    #[test]
    fn another_unit_is_read_and_the_form_keeps_what_was_typed() {
        let form = typed(&[("at", "2026-03-14"), ("mass_g", "0.9oz")]);
        let Ok(Fact::Weighing(weighing)) = form.fact(Kind::Weighing, &Zone::none(), &[]) else { panic!("a weighing") };
        assert_eq!(weighing.mass_g, 25.515);
        assert!(form.shown(Kind::Weighing).contains(&("mass_g".to_owned(), "0.9oz".to_owned())));
    }
}
