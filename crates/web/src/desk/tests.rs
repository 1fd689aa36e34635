//! The desk with records in memory and a clock that stands.

use care::answer::{Code, Task};
use records::facts::{
    Animal, Cleaning, CleaningTask, Enclosure, Ending, EndingWhat, Fitted, FreezerLot, Heater, HeaterKind, Household,
    Meal, Means, Outcome, Override, Prey, Reading, Sign, SignKind, Spot, Stage, Weighing,
};
use records::{Fact, RecordId};
use store::{NewRecord, Reckoned, Stamp};
use units::{Moment, When, Zone};

use super::{Desk, DeskError};

const BY: &str = "Ada";

fn lisbon() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

fn moment(text: &str) -> Moment {
    lisbon().read(text).unwrap().from
}

fn when(text: &str) -> When {
    lisbon().read(text).unwrap()
}

/// A desk on 20 May 2027, 19:30.
fn desk() -> Desk {
    Desk::in_memory(Some(lisbon())).unwrap().standing_at(moment("2027-05-20T19:30"))
}

fn animal(name: &str) -> Animal {
    Animal {
        species: "corn snake".into(),
        family: None,
        name: Some(name.into()),
        hatched: Some(when("2022-06")),
        age_months: None,
        sex: None,
        arrived: Some(when("2022-09-01")),
        stage: Some(Stage::Adult),
        wild_caught: None,
        used_to_handling: None,
        never_fed: None,
        complete_since: None,
    }
}

fn enclosure(desk: &Desk, name: &str, room: &str) -> RecordId {
    let it = Enclosure { name: Some(name.into()), room: Some(room.into()), ..Enclosure::default() };
    desk.add_enclosure(it, Vec::new(), BY).unwrap()
}

fn weighing(at: &str, mass_g: f64) -> Fact {
    Fact::Weighing(Weighing { at: when(at), mass_g, estimated: false, body_score: None })
}

fn meal(at: &str, mass_g: f64) -> Fact {
    Fact::Meal(Meal {
        at: when(at),
        prey: None,
        mass_g: Some(mass_g),
        count: 1,
        outcome: Outcome::Taken,
        regurgitated_at: None,
        state: None,
        surface_c: None,
        minutes_left: None,
        thawed: None,
        frozen_on: None,
        refrozen: false,
    })
}

fn sign(at: &str, sign: SignKind) -> Fact {
    Fact::Sign(Sign { at: when(at), sign, grade: None, cleared_at: None, note: None })
}

fn log(desk: &Desk, animal: RecordId, fact: Fact) -> RecordId {
    desk.log(&[desk.new_record(fact).about(animal)], BY).unwrap().ids[0]
}

fn found(desk: &Desk, name: &str, code: Code) -> bool {
    let walk = desk.rounds(desk.now()).unwrap();
    walk.animals().find(|one| one.name == name).is_some_and(|one| one.brief.has(code))
}

#[test]
fn the_walk_stands_in_walking_order_with_the_species_as_keepers_say_it() {
    let desk = desk();
    let (second, first) = (enclosure(&desk, "S2", "study"), enclosure(&desk, "S1", "study"));
    desk.add_animal(animal("Moss"), Some(second), BY).unwrap();
    desk.add_animal(animal("Fern"), Some(first), BY).unwrap();
    desk.add_animal(Animal { species: "Pantherophis guttatus".into(), ..animal("Stray") }, None, BY).unwrap();
    let walk = desk.rounds(desk.now()).unwrap();
    let names: Vec<(&str, &str)> = walk.animals().map(|one| (one.name.as_str(), one.species.as_str())).collect();
    assert_eq!(names, [("Fern", "corn snake"), ("Moss", "corn snake"), ("Stray", "corn snake")]);
    assert!(walk.places[2].id.is_none());
}

#[test]
fn what_is_reckoned_is_kept_until_a_record_changes_it() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    log(&desk, fern, weighing("2027-05-10", 500.0));
    desk.rounds(desk.now()).unwrap();
    let kept = |desk: &Desk| {
        let mut kept: Vec<Reckoned> = Vec::new();
        desk.store()
            .reckoned(None, &mut |one| {
                kept.push(one);
                Ok(())
            })
            .unwrap();
        kept.pop().unwrap()
    };
    let one = kept(&desk);
    assert!(!one.stale && one.reckoned_for == desk.now() && desk.now() < one.valid_until.unwrap());
    // What is kept is what is shown: a mark in it comes back.
    let marked = Reckoned { answer: one.answer.replace("\"mass_g\":500.0", "\"mass_g\":501.0"), ..one };
    desk.store().keep_reckoned(&[marked], desk.store().position().unwrap()).unwrap();
    assert_eq!(desk.rounds(desk.now()).unwrap().animals().next().unwrap().mass_g, Some(501.0));
    log(&desk, fern, weighing("2027-05-20T19:00", 510.0));
    assert!(kept(&desk).stale);
    assert_eq!(desk.rounds(desk.now()).unwrap().animals().next().unwrap().mass_g, Some(510.0));
}

#[test]
fn the_past_is_reckoned_anew_and_not_kept() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    log(&desk, fern, weighing("2027-05-10", 500.0));
    log(&desk, fern, meal("2027-05-06T20:00", 25.0));
    let due = |at: &str| desk.rounds(moment(at)).unwrap().count(Task::OfferMeal);
    // 10 to 18 days for an adult, 14 in the middle
    assert_eq!((due("2027-05-19T19:30"), due("2027-05-20T19:30")), (0, 1));
    let mut reckoned_for = Vec::new();
    desk.store()
        .reckoned(None, &mut |one| {
            reckoned_for.push(one.reckoned_for);
            Ok(())
        })
        .unwrap();
    assert_eq!(reckoned_for, [desk.now()]);
}

#[test]
fn a_sick_or_dead_animal_concerns_its_room_and_no_other() {
    let desk = desk();
    let (one, two, away) =
        (enclosure(&desk, "B1", "back"), enclosure(&desk, "B2", "back"), enclosure(&desk, "S1", "study"));
    let pip = desk.add_animal(animal("Pip"), Some(one), BY).unwrap();
    let ash = desk.add_animal(animal("Ash"), Some(two), BY).unwrap();
    desk.add_animal(animal("Fern"), Some(away), BY).unwrap();
    let exposed = |name| found(&desk, name, Code::ContactExposed);
    assert!(!exposed("Ash"));
    let wheezing = log(&desk, pip, sign("2027-05-20T09:00", SignKind::Wheezing));
    assert!(exposed("Ash") && !exposed("Pip") && !exposed("Fern"));
    assert!(
        desk.animal(ash, desk.now()).unwrap().answer.finding(Code::ContactExposed).is_some(),
        "its own page says the same"
    );
    desk.remove(&[wheezing], "it was another", BY).unwrap();
    assert!(!exposed("Ash"));
    log(&desk, pip, sign("2027-05-20T09:00", SignKind::RubbedNose));
    assert!(!exposed("Ash"), "what others cannot catch concerns nobody else");
    log(&desk, pip, Fact::Ending(Ending { at: when("2027-05-19"), what: EndingWhat::Died, note: None }));
    assert!(exposed("Ash") && !exposed("Fern"));
}

#[test]
fn an_animal_that_cannot_be_answered_about_is_on_the_walk_all_the_same() {
    let desk = desk();
    desk.add_animal(animal("Fern"), None, BY).unwrap();
    // No desk writes that down; a file of another version may hold it.
    let stranger =
        NewRecord::new(desk.new_id(), Fact::Animal(Animal { species: "garden hose".into(), ..animal("Stranger") }));
    let stamp = Stamp { recorded_at: desk.now(), zone: lisbon(), by: BY.into() };
    desk.store().append(&[stranger], &stamp).unwrap();
    assert!(found(&desk, "Stranger", Code::RecordSuspect) && !found(&desk, "Fern", Code::RecordSuspect));
    assert!(matches!(
        desk.add_animal(Animal { species: "garden hose".into(), ..animal("Other") }, None, BY),
        Err(DeskError::Faults(_))
    ));
}

#[test]
fn the_same_record_twice_is_kept_once() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    let new = [desk.new_record(weighing("2027-05-20T19:00", 500.0)).about(fern)];
    assert!(desk.log(&new, BY).unwrap().act.is_some());
    assert!(desk.log(&new, BY).unwrap().act.is_none(), "sent again by a phone that heard no answer");
    assert_eq!(desk.animal(fern, desk.now()).unwrap().case.timeline.weighings.len(), 1);
}

#[test]
fn what_cannot_be_is_refused_and_what_is_odd_is_asked_about() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    log(&desk, fern, weighing("2027-05-10", 500.0));
    for (fact, field) in [(weighing("2027-05-21", 500.0), "at"), (weighing("2022-05-30", 8.0), "at")] {
        let new = [desk.new_record(fact).about(fern)];
        let Err(DeskError::Faults(faults)) = desk.log(&new, BY) else { panic!("it must be refused") };
        assert_eq!(faults[0].place, field);
    }
    let odd = [desk.new_record(meal("2027-05-20T19:00", 600.0)).about(fern)];
    assert_eq!(desk.doubts(&odd, desk.now()).unwrap().len(), 1);
    desk.log(&odd, BY).unwrap();
    // The same meal put right says nothing against itself.
    let right = [desk.new_record(meal("2027-05-20T19:00", 26.0)).about(fern).instead_of(odd[0].id, "slip")];
    assert!(desk.doubts(&right, desk.now()).unwrap().is_empty());
    // An animal and its first records in one act know each other.
    let pip = desk.new_record(Fact::Animal(animal("Pip")));
    let early = desk.new_record(weighing("2022-05-30", 8.0)).about(pip.id);
    assert!(matches!(desk.log(&[pip, early], BY), Err(DeskError::Faults(_))));
}

#[test]
fn an_act_is_undone_and_redone() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    log(&desk, fern, weighing("2027-05-20T19:00", 500.0));
    let masses = || desk.animal(fern, desk.now()).unwrap().case.timeline.weighings.len();
    assert_eq!(desk.undo(None, "Ben").unwrap().by, BY);
    assert_eq!(masses(), 0);
    desk.redo(None, "Ben").unwrap();
    assert_eq!(masses(), 1);
    assert!(matches!(desk.undo(Some("Cleo"), "Cleo"), Err(DeskError::NotFound(_))), "Cleo entered nothing");
    assert_eq!(desk.done_today().unwrap().len(), 2);
}

#[test]
fn an_enclosure_shows_its_latest_readings_and_chores() {
    let desk = desk();
    let place = enclosure(&desk, "S1", "study");
    desk.add_animal(animal("Fern"), Some(place), BY).unwrap();
    let reading = |at: &str, temperature_c, humidity_pct| {
        let means = records::facts::Means::SpotCheck;
        Fact::Reading(Reading {
            at: when(at),
            spot: Spot::CoolAir,
            temperature_c,
            humidity_pct,
            period: None,
            means,
            hours: None,
        })
    };
    for fact in [
        reading("2027-05-18T09:00", Some(23.0), Some(50.0)),
        reading("2027-05-20T09:00", Some(24.0), None),
        Fact::Cleaning(Cleaning { at: when("2027-05-20T08:00"), task: CleaningTask::Water }),
    ] {
        desk.log(&[desk.new_record(fact).at(place)], BY).unwrap();
    }
    let sheet = desk.enclosure(place, desk.now()).unwrap();
    let latest = &sheet.readings[0];
    assert_eq!(latest.temperature.as_ref().unwrap().1.temperature_c, Some(24.0));
    assert_eq!(latest.humidity.as_ref().unwrap().1.humidity_pct, Some(50.0));
    let done: Vec<bool> = sheet.chores.iter().map(|chore| chore.last.is_some()).collect();
    assert_eq!(done, [true, false, false]);
    assert_eq!(sheet.animals.len(), 1);
    assert!(sheet.animals[0].brief.due.iter().all(|due| due.task != "change-water"));
}

#[test]
fn a_name_leads_to_one_or_says_why_not() {
    let desk = desk();
    let fern = desk.add_animal(animal("Fern"), None, BY).unwrap();
    desk.add_animal(animal("Ferdinand"), None, BY).unwrap();
    assert_eq!(desk.find_animal("fern").unwrap().id, fern);
    assert_eq!(desk.find_animal(&fern.to_string()).unwrap().id, fern);
    assert!(desk.find_animal("Fe").unwrap_err().faults()[0].what.contains("fits several animals"));
    assert!(desk.find_animal("Firn").unwrap_err().faults()[0].mend.contains("Fern"));
    assert!(matches!(desk.find_enclosure("S9"), Err(DeskError::NotFound(_))));
}

#[test]
fn a_case_without_a_moment_is_asked_about_now() {
    let desk = desk();
    let at = |zone: &str| {
        let text = format!("{zone}[animal]\nspecies = \"corn_snake\"\n");
        let answer = desk.assess_text("case.toml", text.as_bytes(), None).unwrap();
        answer.zone.write(answer.at)
    };
    assert_eq!(at("zone = \"Asia/Tokyo\"\n"), "2027-05-21T03:30+09:00");
    assert_eq!(at(""), "2027-05-20T19:30", "what the clock on the wall shows");
}

fn warm_surface(at: &str, temperature_c: f64) -> Fact {
    Fact::Reading(Reading {
        at: when(at),
        spot: Spot::WarmSurface,
        temperature_c: Some(temperature_c),
        humidity_pct: None,
        period: None,
        means: Means::SpotCheck,
        hours: None,
    })
}

/// What a log of a week, ended at `at`, said of an enclosure whose heater has `watts`.
fn fitted(at: &str, watts: f64) -> Fitted {
    let at = when(at);
    Fitted {
        at,
        from: When::exactly(Moment(at.from.0 - 7 * 86_400)),
        warm_to_room_w_k: 0.7,
        warm_to_room_w_k_sd_pct: 6.0,
        cool_to_room_w_k: 0.6,
        cool_to_room_w_k_sd_pct: 7.5,
        warm_to_cool_w_k: 1.9,
        warm_to_cool_w_k_sd_pct: 12.0,
        warm_kj_k: 14.0,
        warm_kj_k_sd_pct: 9.0,
        cool_kj_k: 11.5,
        cool_kj_k_sd_pct: 10.0,
        heater_share: 0.8,
        heater_share_sd_pct: 0.0,
        watts,
        rms_k: 0.21,
        log_rows: 2_016,
    }
}

/// Two enclosures: Fern, grown and just fed, with a value of her own; Pip, a hatchling that has not eaten, and Ash, who
/// is lent. Gives their ids.
fn two_places(desk: &Desk) -> (RecordId, RecordId) {
    let mat = Heater { watts: Some(20.0), set_c: Some(31.0), night_set_c: Some(28.0), ..Heater::of(HeaterKind::Mat) };
    let walls = Enclosure {
        name: Some("S1".into()),
        room: Some("study".into()),
        thickness_mm: Some(4.0),
        ..Enclosure::default()
    };
    let (one, two) = (desk.add_enclosure(walls, vec![mat], BY).unwrap(), enclosure(desk, "S2", "study"));
    let fern = desk.add_animal(animal("Fern"), Some(one), BY).unwrap();
    let young = Animal { hatched: Some(when("2027-01")), stage: Some(Stage::Hatchling), ..animal("Pip") };
    desk.add_animal(Animal { arrived: Some(when("2027-03-01")), ..young }, Some(two), BY).unwrap();
    let ash = desk.add_animal(animal("Ash"), Some(two), BY).unwrap();
    let lent = Ending { at: when("2027-05-01"), what: EndingWhat::Lent, note: None };
    let path = "temperature.night_min_c".to_owned();
    let own = Override { path, low: 19.5, high: 21.0, reason: "the veterinarian says so".into() };
    log(desk, ash, Fact::Ending(lent));
    log(desk, fern, Fact::Override(own));
    log(desk, fern, weighing("2027-05-10", 500.0));
    log(desk, fern, meal("2027-05-20T12:00", 40.0));
    for (at, degrees) in
        [("2027-05-19T09:00", 31.0), ("2027-02-25T09:00", 30.0), ("2027-02-15T09:00", 20.0), ("2027-05-20", 32.0)]
    {
        desk.log(&[desk.new_record(warm_surface(at, degrees)).at(one)], BY).unwrap();
    }
    (one, two)
}

#[test]
fn a_question_is_handed_what_is_on_record_of_the_enclosure() {
    let desk = desk();
    let (one, two) = two_places(&desk);
    let room = Household { room_c: Some(21.0), room_winter_c: Some(16.0), ..Household::default() };
    let lot = FreezerLot { class: Prey::MouseAdult, count: 12, mass_g: Some(25.0), bought: None };
    desk.set_household(room.clone(), BY).unwrap();
    desk.log(&[desk.new_record(Fact::FreezerLot(lot.clone()))], BY).unwrap();
    let known = desk.known(Some(one), desk.now()).unwrap();
    assert_eq!((known.now, known.zone.name(), known.all.len()), (desk.now(), Some("Europe/Lisbon"), 0));
    assert_eq!((known.household, known.freezer), (Some(room), vec![lot]));
    let place = known.place.unwrap();
    assert_eq!((place.id, place.name(), place.enclosure.thickness_mm), (Some(one), Some("S1"), Some(4.0)));
    assert_eq!((place.heaters.len(), place.heaters[0].night_set_c, place.fitted), (1, Some(28.0), None));
    let degrees: Vec<f64> = place.readings.iter().filter_map(|one| one.temperature_c).collect();
    assert_eq!(degrees, [30.0, 31.0, 32.0], "of the last 90 days, oldest first");
    let [fern] = place.residents.as_slice() else { panic!("one lives in it") };
    assert_eq!((fern.name.as_deref(), fern.mass_g), (Some("Fern"), Some(500.0)));
    assert!(fern.is_digesting && !fern.is_hatchling);
    let night = fern.profile.temperature.night_min_c.first().unwrap();
    assert_eq!((night.low, night.high), (19.5, 21.0), "with the value of her own");

    let other = desk.known(Some(two), desk.now()).unwrap().place.unwrap();
    let [pip] = other.residents.as_slice() else { panic!("one is lent and not in it") };
    assert!(pip.is_hatchling && !pip.is_digesting && pip.mass_g.is_none());
    assert_ne!(pip.profile.temperature.night_min_c.first().unwrap().low, 19.5);

    let then = desk.known(Some(one), moment("2027-05-19T12:00")).unwrap().place.unwrap();
    assert_eq!(then.readings.len(), 2, "what was read later is not known yet");
    assert!(!then.residents[0].is_digesting);
}

#[test]
fn a_question_may_be_about_no_enclosure_and_about_none_that_is_not_there() {
    let desk = desk();
    let known = desk.known(None, desk.now()).unwrap();
    assert!(known.place.is_none() && known.all.is_empty() && known.household.is_none() && known.freezer.is_empty());
    for nowhere in [desk.known(Some(desk.new_id()), desk.now()), desk.known_all(Some(desk.new_id()), desk.now())] {
        assert!(matches!(nowhere, Err(DeskError::NotFound(_))));
    }
}

#[test]
fn all_enclosures_are_handed_over_only_when_asked_for_and_say_the_same() {
    let desk = desk();
    let (one, two) = two_places(&desk);
    desk.keep_fitted(two, fitted("2027-05-14T12:00", 40.0), BY).unwrap();
    let known = desk.known_all(Some(two), desk.now()).unwrap();
    let ids: Vec<_> = known.all.iter().map(|place| place.id).collect();
    assert_eq!(ids, [Some(one), Some(two)], "in walking order");
    for (id, place) in [(one, &known.all[0]), (two, &known.all[1]), (two, known.place.as_ref().unwrap())] {
        let alone = desk.known(Some(id), desk.now()).unwrap().place.unwrap();
        assert_eq!(format!("{alone:?}"), format!("{place:?}"));
    }
    assert!(desk.known_all(None, desk.now()).unwrap().place.is_none());
    assert!(!found(&desk, "Fern", Code::RecordSuspect), "what was reckoned on the way is what the walk shows");
}

#[test]
fn what_a_log_said_is_kept_until_a_later_log_or_an_undoing() {
    let desk = desk();
    let (one, _) = two_places(&desk);
    let watts = || desk.known(Some(one), desk.now()).unwrap().place.unwrap().fitted.map(|fitted| fitted.watts);
    let first = desk.keep_fitted(one, fitted("2027-05-14T12:00", 20.0), BY).unwrap();
    assert_eq!(watts(), Some(20.0));
    desk.keep_fitted(one, fitted("2027-04-14T12:00", 30.0), BY).unwrap();
    assert_eq!(watts(), Some(20.0), "an earlier log that is fitted later does not hold");
    desk.keep_fitted(one, fitted("2027-05-20T12:00", 25.0), BY).unwrap();
    assert_eq!(watts(), Some(25.0));
    desk.undo(None, BY).unwrap();
    assert_eq!(watts(), Some(20.0));
    desk.remove(&[first], "the probe had fallen", BY).unwrap();
    assert_eq!(watts(), Some(30.0));
    let history = desk.enclosure(one, desk.now()).unwrap().history;
    assert_eq!(history.iter().filter(|stored| matches!(stored.fact, Fact::Fitted(_))).count(), 3);
    let ahead = desk.keep_fitted(one, fitted("2027-05-21T12:00", 20.0), BY);
    assert!(matches!(ahead, Err(DeskError::Faults(faults)) if faults[0].place == "at"), "a log does not end tomorrow");
    assert!(matches!(desk.keep_fitted(desk.new_id(), fitted("2027-05-14", 20.0), BY), Err(DeskError::NotFound(_))));
}
