//! Invented households.

use store::demo_scale::{END, WRITER, generate};
use store::{Line, Store, Written};

use crate::support::*;

#[test]
fn the_same_seed_gives_the_same_records_and_another_gives_others() {
    let made = |seed| {
        let store = Store::in_memory().unwrap();
        assert_eq!(generate(&store, 3, 1, seed).unwrap(), store.position().unwrap().0);
        store.verify().unwrap()
    };
    assert_eq!(made(7), made(7));
    assert_ne!(made(7).end, made(8).end);
}

#[test]
fn a_simulated_household_says_so_and_looks_like_a_real_one() {
    let store = Store::in_memory().unwrap();
    let (animals, years) = (4, 2);
    let made = generate(&store, animals, years, 1).unwrap();
    let a_year = made as f64 / f64::from(animals * years);
    assert!((120.0..220.0).contains(&a_year), "{a_year} records a year and animal");
    let mut each = |line: Line| {
        let Written::Record(stored) = line.written() else { panic!("nothing is removed") };
        assert_eq!(stored.head.by, WRITER);
        assert!(stored.head.recorded_at <= END);
        Ok(())
    };
    store.all_records(&mut each).unwrap();
    let rows = store.animals(false).unwrap();
    assert_eq!(rows.len(), 4);
    for row in rows {
        assert!(row.animal.name.unwrap().starts_with("Simulated"));
        let case = store.case_of(row.id, &lisbon()).unwrap().unwrap();
        let masses: Vec<f64> = case.timeline.weighings.iter().map(|one| one.mass_g).collect();
        assert!(masses.is_sorted() && 20 < masses.len(), "{masses:?}");
        assert!(50 < case.timeline.meals.len() && 5 < case.timeline.sheds.len());
        assert!(100 < case.timeline.cleanings.len() && !case.heaters.is_empty());
    }
}
