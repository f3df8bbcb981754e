//! The order of names.

use std::cmp::Ordering;

/// Names in the order in which people look for them: `Bed 2` before `Bed 10`, and one order for all.
pub fn by_name(a: &str, b: &str) -> Ordering {
    natural(a).cmp(&natural(b)).then_with(|| a.cmp(b))
}

/// A name in parts, numbers apart from words.
fn natural(name: &str) -> Vec<(String, u128)> {
    let mut parts = vec![(String::new(), 0_u128)];
    let mut in_number = false;
    for c in name.chars() {
        if let Some(digit) = c.to_digit(10) {
            if let Some((_, number)) = parts.last_mut() {
                *number = number.saturating_mul(10).saturating_add(u128::from(digit));
            }
            in_number = true;
            continue;
        }
        if in_number {
            parts.push((String::new(), 0));
            in_number = false;
        }
        if let Some((word, _)) = parts.last_mut() {
            word.extend(c.to_lowercase());
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beds_are_listed_as_people_count_them() {
        let mut names = ["Bed 10", "bed 2", "Bed 2", "Bed 1b", "Aisle", "Bed 1"];
        names.sort_by(|a, b| by_name(a, b));
        assert_eq!(
            names,
            ["Aisle", "Bed 1", "Bed 1b", "Bed 2", "bed 2", "Bed 10"]
        );
    }
}
