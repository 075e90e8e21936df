//! Which of the known names a mistyped one probably was.

/// The name among `known` that is nearest to `meant`, if one is near enough to be offered as "did you mean".
///
/// Near enough is at most a third of its letters wrong (at least one): swapped neighbours count as one. Of
/// equally near names the first is taken.
pub fn likely<'n>(meant: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let allowed = (meant.chars().count() / 3).max(1);
    let near = |name: &'n str| (distance(&meant.to_lowercase(), &name.to_lowercase()), name);
    let best = known.into_iter().map(near).min_by_key(|(distance, _)| *distance)?;
    (best.0 <= allowed).then_some(best.1)
}

/// How many letters must be put in, left out, changed or swapped with their neighbour (optimal string alignment).
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut two_back: Vec<usize> = Vec::new();
    let mut back: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let changed = back[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = changed.min(back[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(two_back[j - 2] + 1);
            }
        }
        two_back = std::mem::replace(&mut back, row);
    }
    back[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_of_known_pairs() {
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("kitten", "sitting"), 3); // the textbook pair
        assert_eq!(distance("ca", "ac"), 1);
        assert_eq!(distance("frame-stile", "frame-stile"), 0);
    }

    #[test]
    fn offers_only_what_is_near() {
        let known = ["frame-stile", "frame-rail", "toe-height"];
        assert_eq!(likely("frame-style", known), Some("frame-stile"));
        assert_eq!(likely("toe_height", known), Some("toe-height"));
        assert_eq!(likely("ceiling", known), None);
        assert_eq!(likely("b3", ["b1", "b4", "slate"]), Some("b1"));
        assert_eq!(likely("x", []), None);
    }
}
