//! Names as people order and look for them.

use std::cmp::Ordering;

/// A name as it is ordered: letters without regard to case, numbers by their value, so that «box 2» comes before
/// «box 10».
pub(crate) fn order(one: &str, other: &str) -> Ordering {
    let (mut a, mut b) = (one.chars().peekable(), other.chars().peekable());
    loop {
        match (a.peek().copied(), b.peek().copied()) {
            (None, None) => return one.cmp(other),
            (None, Some(_)) => return Ordering::Less,
            (Some(_), None) => return Ordering::Greater,
            (Some(x), Some(y)) if x.is_ascii_digit() && y.is_ascii_digit() => {
                let (x, y) = (digits(&mut a), digits(&mut b));
                let by_value = x.len().cmp(&y.len()).then_with(|| x.cmp(&y));
                if by_value.is_ne() {
                    return by_value;
                }
            }
            (Some(x), Some(y)) => {
                let by_letter = x.to_lowercase().cmp(y.to_lowercase());
                if by_letter.is_ne() {
                    return by_letter;
                }
                a.next();
                b.next();
            }
        }
    }
}

fn digits(letters: &mut std::iter::Peekable<std::str::Chars<'_>>) -> String {
    let mut out = String::new();
    while let Some(digit) = letters.next_if(char::is_ascii_digit) {
        if digit != '0' || !out.is_empty() {
            out.push(digit);
        }
    }
    out
}

/// What is named comes before what is not.
pub(crate) fn order_known(one: Option<&str>, other: Option<&str>) -> Ordering {
    match (one, other) {
        (Some(one), Some(other)) => order(one, other),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}

/// What is sought among `all`: the one with this name, else those that are called so without regard to case, else
/// those whose name or id begins so.
pub(crate) fn sought<T>(
    all: Vec<T>,
    sought: &str,
    id: impl Fn(&T) -> String,
    name: impl Fn(&T) -> Option<String>,
) -> Vec<T> {
    let typed = sought.trim().to_lowercase();
    if typed.is_empty() {
        return Vec::new();
    }
    let is_id = |one: &T| id(one) == typed;
    let is_name = |one: &T| name(one).is_some_and(|name| name.to_lowercase() == typed);
    let begins =
        |one: &T| id(one).starts_with(&typed) || name(one).is_some_and(|name| name.to_lowercase().starts_with(&typed));
    let mut all = all;
    for fits in [&is_id as &dyn Fn(&T) -> bool, &is_name, &begins] {
        if all.iter().any(fits) {
            all.retain(fits);
            return all;
        }
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_ordered_as_people_count() {
        let mut names = vec!["box 10", "Box 2", "annex", "box 02b", "Box 2a"];
        names.sort_by(|a, b| order(a, b));
        assert_eq!(names, ["annex", "Box 2", "Box 2a", "box 02b", "box 10"]);
        assert_eq!(order_known(None, Some("a")), Ordering::Greater);
    }

    #[test]
    fn an_exact_name_comes_before_a_beginning() {
        let find = |typed| {
            sought(
                vec![("1f", "Ash"), ("2e", "ASH"), ("3d", "Ashen")],
                typed,
                |one| one.0.into(),
                |one| Some(one.1.into()),
            )
        };
        assert_eq!(find("ash").len(), 2);
        assert_eq!(find("ashe"), [("3d", "Ashen")]);
        assert_eq!(find("2e"), [("2e", "ASH")]);
        assert_eq!(find("as").len(), 3);
        assert!(find("birch").is_empty());
        assert!(find(" ").is_empty());
    }
}
