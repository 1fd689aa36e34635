//! Tables made at random, in many styles, with known content: understood exactly, or asked, never read wrongly.

#![expect(clippy::expect_used, reason = "a helper of a test may end it")]

mod tables;

use proptest::prelude::*;
use records::import::{About, Answers, Understood, read};
use records::{Fact, Raw};
use units::Zone;

use tables::{Made, a_table};

/// Gives the true answer to each question.
fn answer(understood: &Understood, made: &Made, answers: &mut Answers) -> Result<(), TestCaseError> {
    for question in &understood.questions {
        prop_assert!(!question.because.is_empty());
        match &question.about {
            About::Encoding => answers.encoding = made.truth.encoding.clone(),
            About::DateOrder => answers.date_order = made.truth.date_order,
            About::Decimal => answers.decimal = made.truth.decimal,
            About::MassUnit => answers.mass_unit = made.truth.mass_unit,
            About::TemperatureUnit => answers.temperature_unit = made.truth.temperature_unit,
            About::LengthUnit => answers.length_unit = made.truth.length_unit,
            About::Species => answers.species = made.truth.species.clone(),
            About::Animal => answers.animal = made.truth.animal.clone(),
            About::MealMass => answers.meal_mass_is = made.truth.meal_mass_is,
            About::NoMeal => answers.no_meal = made.truth.no_meal,
            About::FillDown => answers.fill_down = made.truth.fill_down,
            About::Outcome => answers.outcome = made.truth.outcome,
            About::Column(header) => {
                let told = made.truth.columns.iter().find(|(known, _)| known == header);
                prop_assert!(told.is_some(), "asked about `{header}`");
                answers.columns.extend(told.cloned());
            }
        }
    }
    Ok(())
}

/// The same, but for what a change of units does to the last digits.
fn same(one: &Fact, other: &Fact, zone: &Zone) -> bool {
    let (one, other) = (one.fields(zone), other.fields(zone));
    one.len() == other.len()
        && one.iter().zip(&other).all(|((key, value), (other_key, other))| {
            key == other_key
                && match (value, other) {
                    (Raw::Number(a), Raw::Number(b)) => (a - b).abs() <= 1e-9 * a.abs().max(1.0),
                    (a, b) => a == b,
                }
        })
}

fn check(understood: &Understood, made: &Made) -> Result<(), TestCaseError> {
    let animals = understood.ready().expect("no question is open");
    let mut open: Vec<(&str, &Fact)> =
        animals.iter().flat_map(|animal| animal.facts.iter().map(|(_, fact)| (animal.name.as_str(), fact))).collect();
    for (name, fact) in &made.facts {
        let found = open
            .iter()
            .position(|(of, other)| of == name && other.kind() == fact.kind() && same(fact, other, &made.zone));
        match found {
            Some(at) => drop(open.swap_remove(at)),
            None => {
                let read: Vec<&(&str, &Fact)> = open.iter().filter(|(_, other)| other.kind() == fact.kind()).collect();
                prop_assert!(false, "{name}: {fact:?} is missing; among what was read:\n{read:#?}");
            }
        }
    }
    prop_assert!(open.is_empty(), "nobody wrote {open:#?}");
    for (name, species) in &made.species {
        let animal = animals.iter().find(|animal| animal.name == *name);
        prop_assert_eq!(animal.map(|animal| animal.animal.species.as_str()), Some(species.as_str()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn a_table_is_understood_exactly_or_asked_about(made in a_table()) {
        let mut answers = Answers::default();
        // What is asked depends on what was answered before, but not for long.
        for round in 0..4 {
            let understood = match read("diary.csv", &made.bytes, &answers, &made.zone) {
                Ok(understood) => understood,
                Err(faults) => return Err(TestCaseError::fail(format!("{faults:#?}\n{}", made.text))),
            };
            if understood.questions.is_empty() {
                return check(&understood, &made).map_err(|error| TestCaseError::fail(format!("{error}\n{}", made.text)));
            }
            prop_assert!(understood.animals.is_empty(), "nothing is handed out before the answers");
            prop_assert!(round < 3, "still open: {:#?}\n{}", understood.questions, made.text);
            answer(&understood, &made, &mut answers)?;
        }
    }

    #[test]
    fn any_bytes_are_read_or_refused_but_never_end_the_program(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let answers = Answers { animal: Some("Noor".into()), species: Some("Python regius".into()), ..Answers::default() };
        for answers in [Answers::default(), answers] {
            if let Err(faults) = read("diary.csv", &bytes, &answers, &Zone::none()) {
                prop_assert!(!faults.is_empty());
            }
        }
    }

    #[test]
    fn any_text_of_cells_is_read_or_refused_but_never_ends_the_program(text in tables::cells_at_random()) {
        let mut answers = Answers { animal: Some("Noor".into()), species: Some("Python regius".into()), ..Answers::default() };
        for truth in tables::some_answers() {
            match read("diary.csv", text.as_bytes(), &answers, &Zone::none()) {
                Err(faults) => prop_assert!(faults.iter().all(|fault| !fault.what.is_empty() && !fault.mend.is_empty())),
                Ok(understood) => prop_assert!(understood.questions.is_empty() || understood.animals.is_empty()),
            }
            answers = truth;
        }
    }

    #[test]
    fn a_table_with_one_byte_changed_never_ends_the_program(made in a_table(), at in any::<prop::sample::Index>(), byte in any::<u8>()) {
        let mut bytes = made.bytes.clone();
        if let Some(place) = bytes.get_mut(at.index(made.bytes.len())) {
            *place = byte;
        }
        if let Ok(understood) = read("diary.csv", &bytes, &made.truth, &made.zone) {
            prop_assert!(understood.questions.is_empty() || understood.animals.is_empty());
        }
    }
}
