//! Any sequence of entries, corrections, removals and undoings.

use proptest::prelude::*;
use records::{Fact, RecordId};
use store::{NewRecord, Store};

use crate::support::*;

#[derive(Clone, Debug)]
enum Step {
    /// A weighing of one of two animals on a day of the month.
    Enter { first: bool, day: u32 },
    /// One of the weighings gets another mass, perhaps of the other animal.
    Correct { which: usize, first: Option<bool> },
    /// One of the weighings is taken back.
    Remove { which: usize },
    /// The last act is undone.
    Undo,
    /// The last undoing is undone.
    Redo,
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        3 => (any::<bool>(), 1..28u32).prop_map(|(first, day)| Step::Enter { first, day }),
        3 => (any::<usize>(), any::<Option<bool>>()).prop_map(|(which, first)| Step::Correct { which, first }),
        2 => any::<usize>().prop_map(|which| Step::Remove { which }),
        3 => Just(Step::Undo),
        1 => Just(Step::Redo),
    ]
}

const ANIMALS: [u64; 2] = [1, 2];

fn pick(first: bool) -> RecordId {
    id(if first { ANIMALS[0] } else { ANIMALS[1] })
}

/// What a keeper sees: the weighings of both animals, and the last of each.
type Seen = Vec<(Vec<f64>, Option<RecordId>)>;

fn seen(store: &Store) -> Seen {
    let of = |number: u64| {
        let last = store.last(Some(id(number)), "weighing").unwrap();
        (masses(store, id(number)), last.map(|last| last.head.id))
    };
    ANIMALS.into_iter().map(of).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(40) })]

    #[test]
    fn undoing_leads_back_the_way_that_was_come(steps in proptest::collection::vec(step(), 1..25)) {
        let store = Store::in_memory().unwrap();
        let both = ANIMALS.map(|number| NewRecord::new(id(number), Fact::Animal(animal("a"))));
        store.append(&both, &stamp()).unwrap();
        let mut written: Vec<RecordId> = Vec::new();
        // What was seen before each act that stands, and after each that was undone since the last entry.
        let mut before: Vec<Seen> = Vec::new();
        let mut after: Vec<Seen> = Vec::new();
        for (number, step) in (100..).zip(&steps) {
            let now = seen(&store);
            let chosen = |which: usize| (!written.is_empty()).then(|| written[which % written.len()]);
            let acted = match step {
                Step::Enter { first, day } => {
                    let new = NewRecord::new(id(number), weighing(&format!("2026-02-{day:02}"), number as f64));
                    store.append(&[new.about(pick(*first))], &stamp()).unwrap();
                    written.push(id(number));
                    true
                }
                Step::Correct { which, first } => match chosen(*which) {
                    Some(old) => {
                        let new = NewRecord::new(id(number), weighing("2026-02-14", number as f64)).instead_of(old, "");
                        let new = first.map_or(new.clone(), |first| new.about(pick(first)));
                        let done = store.append(&[new], &stamp()).is_ok();
                        written.extend(done.then_some(id(number)));
                        done
                    }
                    None => false,
                },
                Step::Remove { which } => match chosen(*which) {
                    Some(old) => {
                        let position = store.position().unwrap();
                        store.remove(&[old], "a slip", &stamp()).unwrap();
                        position < store.position().unwrap()
                    }
                    None => false,
                },
                Step::Undo => {
                    if let Some(earlier) = before.pop() {
                        let act = store.last_act(None).unwrap().unwrap();
                        store.undo(&act, &stamp()).unwrap();
                        prop_assert_eq!(seen(&store), earlier);
                        after.push(now.clone());
                    }
                    false
                }
                Step::Redo => {
                    if let Some(later) = after.pop() {
                        let act = store.last_undone(None).unwrap().unwrap();
                        store.undo(&act, &stamp()).unwrap();
                        prop_assert_eq!(seen(&store), later);
                        before.push(now.clone());
                    }
                    false
                }
            };
            if acted {
                before.push(now);
                after.clear();
            }
        }
        let at_last = seen(&store);
        store.rebuild().unwrap();
        prop_assert_eq!(seen(&store), at_last, "what is last is what it is when made anew");
        prop_assert!(store.verify().unwrap().is_sound());
    }
}

#[test]
fn a_removal_that_was_undone_and_done_again_can_be_undone_again() {
    let (store, me) = with_animal();
    store.append(&[NewRecord::new(id(100), weighing("2026-02-01", 100.0)).about(me)], &stamp()).unwrap();
    store.remove(&[id(100)], "a slip", &stamp()).unwrap();
    for (undoes, left) in
        [(true, vec![100.0]), (false, vec![]), (true, vec![100.0]), (false, vec![]), (true, vec![100.0])]
    {
        let act = if undoes { store.last_act(None) } else { store.last_undone(None) }.unwrap().unwrap();
        store.undo(&act, &stamp()).unwrap();
        assert_eq!(masses(&store, me), left);
    }
}
