//! Every picture of every demo.

mod demos;

use std::collections::BTreeSet;

use demos::demos;
use dryfit_drawing::views;

/// Keys name files: two that differ only in case would be one on some systems.
#[test]
fn keys_are_unique_whatever_their_case() {
    for (name, plan, derived) in demos() {
        let keys: Vec<String> = views::all(&plan, &derived).iter().map(|it| it.key.to_lowercase()).collect();
        assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len(), "{name}");
    }
}
