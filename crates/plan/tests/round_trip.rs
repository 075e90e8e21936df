//! What is written reads back as it was; what an edit does, its inverse undoes.

mod arbitrary;

use dryfit_plan::{Edit, Plan, apply_to_text};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_plan_reads_back_from_its_text(plan in arbitrary::plan()) {
        let text = plan.to_toml();
        let read = Plan::from_toml(&text);
        prop_assert!(read.is_ok(), "{read:?}\n{text}");
        prop_assert_eq!(read.expect("just seen").plan, plan, "{}", text);
    }

    #[test]
    fn a_plan_reads_back_from_its_json(plan in arbitrary::plan()) {
        prop_assert_eq!(Plan::from_json_text(&plan.to_json().to_string()), Ok(plan));
    }

    #[test]
    fn the_inverse_of_an_edit_takes_it_back(before in arbitrary::plan(), after in arbitrary::plan()) {
        let edit = Edit::between(&before, &after, "anything");
        let (changed, inverse) = before.apply(&edit).expect("an edit of this very plan");
        prop_assert_eq!(&changed, &after);
        prop_assert_eq!(changed.apply(&inverse).expect("its inverse").0, before);
    }

    #[test]
    fn an_edit_of_the_text_does_what_the_edit_does(before in arbitrary::plan(), after in arbitrary::plan()) {
        let edit = Edit::between(&before, &after, "anything");
        let text = apply_to_text(&before.to_toml(), &edit);
        prop_assert!(text.is_ok(), "{text:?}");
        prop_assert_eq!(Plan::from_toml(&text.expect("just seen")).expect("a plan").plan, after);
    }
}
