//! "Did you mean": the known word that is nearest to a mistyped one.

/// The word of `known` that `typed` was likely meant to be: at most a third of its letters inserted, dropped,
/// changed or swapped with their neighbour; the first of the equally near. Case, `-`, `_` and blanks are not
/// told apart.
pub(crate) fn nearest<'w>(typed: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    // longer than any word of ours by far: no need to compare
    if typed.len() > 60 {
        return None;
    }
    let folded = fold(typed);
    let most = (folded.len() / 3).max(1);
    known
        .into_iter()
        .map(|word| (distance(&folded, &fold(word)), word))
        .filter(|&(far, word)| far <= most && far < fold(word).len())
        .min_by_key(|&(far, _)| far)
        .map(|(_, word)| word)
}

fn fold(word: &str) -> Vec<char> {
    let lower = word.chars().flat_map(char::to_lowercase);
    lower.map(|c| if matches!(c, '-' | '_' | ' ') { '-' } else { c }).collect()
}

/// Optimal string alignment distance: insertions, deletions, changes, swaps of neighbours.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let change = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = change.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_each_slip_once() {
        let far = |a, b| distance(&fold(a), &fold(b));
        assert_eq!(far("length", "length"), 0);
        assert_eq!(far("lenght", "length"), 1);
        assert_eq!(far("widht", "width"), 1);
        assert_eq!(far("", "abc"), 3);
        assert_eq!(far("Face Frame", "face-frame"), 0);
    }

    #[test]
    fn finds_what_was_meant() {
        let known = ["epoch", "by", "of", "height", "length"];
        assert_eq!(nearest("lenght", known), Some("length"));
        assert_eq!(nearest("hight", known), Some("height"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("xx", known), None);
        assert_eq!(nearest("", known), None);
        assert_eq!(nearest(&"x".repeat(1000), known), None);
    }
}
