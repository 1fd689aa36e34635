//! Everything out and back in.

use store::{Line, NewRecord, Store, StoreError, Written};

use crate::chain::fill;
use crate::support::*;

fn lines(store: &Store) -> Vec<String> {
    let mut out = Vec::new();
    store
        .all_records(&mut |line| {
            out.push(line.to_json());
            Ok(())
        })
        .unwrap();
    out
}

fn restored(lines: &[String]) -> Result<Store, StoreError> {
    let store = Store::in_memory()?;
    store.restore(&mut lines.iter().map(|line| Line::from_json(line)))?;
    Ok(store)
}

#[test]
fn what_is_restored_is_the_same() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    store.undo(&store.last_act(None).unwrap().unwrap(), &stamp()).unwrap();
    let copy = restored(&lines(&store)).unwrap();
    assert_eq!(lines(&copy), lines(&store));
    assert_eq!(copy.history(id(1)).unwrap(), store.history(id(1)).unwrap());
    assert_eq!(copy.case_of(id(1), &lisbon()).unwrap(), store.case_of(id(1), &lisbon()).unwrap());
    assert_eq!(copy.verify().unwrap(), store.verify().unwrap());
    assert_eq!(copy.last_act(None).unwrap(), store.last_act(None).unwrap());
    // Writing goes on along the same chain.
    for store in [&store, &copy] {
        store.append(&[NewRecord::new(id(9), weighing("2026-03-01", 1.0)).about(id(1))], &stamp()).unwrap();
    }
    assert_eq!(lines(&copy), lines(&store));
}

#[test]
fn a_line_says_what_was_written() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    let mut kinds = Vec::new();
    let mut each = |line: Line| {
        assert_eq!(Line::from_json(&line.to_json())?, line);
        match line.written() {
            Written::Record(stored) => {
                assert_eq!(stored.head.corrected_by, None, "what came later is told later");
                kinds.push((line.seq(), stored.head.id, None));
            }
            Written::Removal(removal) => {
                assert_eq!(removal.why.as_deref(), Some("another animal's"));
                kinds.push((line.seq(), removal.of, Some(removal.puts_back)));
            }
        }
        Ok(())
    };
    store.all_records(&mut each).unwrap();
    let expected = [(1, id(1), None), (2, id(2), None), (3, id(3), None), (4, id(4), None), (5, id(3), Some(false))];
    assert_eq!(kinds, expected);
}

#[test]
fn a_line_that_was_altered_is_refused_and_nothing_is_restored() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    let good = lines(&store);
    let altered = |at: usize, from: &str, to: &str| {
        let mut lines = good.clone();
        assert!(lines[at].contains(from));
        lines[at] = lines[at].replace(from, to);
        lines
    };
    let mut swapped = good.clone();
    swapped.swap(1, 2);
    for (lines, says) in [
        (altered(1, "50", "60"), "record 2 is not as it was written: it does not fit its hash"),
        (
            altered(1, "\"mass_g\"", "\"mass_kg\""),
            "record 2 is not as it was written: `mass_kg` is unknown in a weighing",
        ),
        (
            altered(2, "\"meal\"", "\"feast\""),
            "record 3 is not as it was written: `feast` is no kind that this version knows",
        ),
        (altered(0, "{", "("), "record 0 is not as it was written: expected value at line 1 column 1"),
        (swapped, "record 3 is not as it was written: record 2 is missing before it"),
    ] {
        let empty = Store::in_memory().unwrap();
        let refused = empty.restore(&mut lines.iter().map(|line| Line::from_json(line))).unwrap_err();
        assert_eq!(refused.to_string(), says);
        assert_eq!(empty.position().unwrap().0, 0);
    }
}

#[test]
fn only_an_empty_store_is_restored_into() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    let again = store.restore(&mut lines(&store).iter().map(|line| Line::from_json(line)));
    assert!(matches!(again, Err(StoreError::NotEmpty)));
}

#[test]
fn an_export_is_of_the_moment_it_began() {
    let store = Store::in_memory().unwrap();
    fill(&store);
    let mut seen = 0;
    let mut each = |line: Line| {
        seen += 1;
        let number = 100 + line.seq();
        store.append(&[NewRecord::new(id(number), weighing("2026-03-01", 1.0)).about(id(1))], &stamp())?;
        Ok(())
    };
    store.all_records(&mut each).unwrap();
    assert_eq!(seen, 5);
}
