//! What a builder types, what it comes to, and what is said when it cannot be read.

use dryfit_measure::{Length, Stated, Unit, read_length};
use rstest::rstest;

const IN: Unit = Unit::Inch;
const MM: Unit = Unit::Millimetre;

fn inches(whole: i64, num: i64, den: i64) -> Length {
    Length::inches(whole, num, den)
}

#[rstest]
// the forms of a tape in inches
#[case("23 3/16", inches(23, 3, 16))]
#[case("23-3/16\"", inches(23, 3, 16))]
#[case("23\u{2013}3/16", inches(23, 3, 16))]
#[case("  23  3 / 16  ", inches(23, 3, 16))]
#[case("23\u{a0}3\u{2044}16\u{3000}in.", inches(23, 3, 16))]
#[case("64.5", inches(64, 1, 2))]
#[case(".5", inches(0, 1, 2))]
#[case("0.015625", inches(0, 1, 64))]
#[case("3/4", inches(0, 3, 4))]
#[case("\u{be}", inches(0, 3, 4))]
#[case("23\u{be}", inches(23, 3, 4))]
#[case("23 \u{be}\u{2033}", inches(23, 3, 4))]
#[case("23-\u{215e} inches", inches(23, 7, 8))]
#[case("0", Length::ZERO)]
#[case("-1/2", -inches(0, 1, 2))]
#[case("\u{2212} 1 1/2 in", -inches(1, 1, 2))]
#[case("0/16", Length::ZERO)]
// feet
#[case("5'", inches(60, 0, 1))]
#[case("5.5 ft", inches(66, 0, 1))]
#[case("5 1/2 ft", inches(66, 0, 1))]
#[case("5' 4 1/2\"", inches(64, 1, 2))]
#[case("5'-4 1/2", inches(64, 1, 2))]
#[case("5' - 4-1/2\"", inches(64, 1, 2))]
#[case("5\u{2032}4\u{2033}", inches(64, 0, 1))]
#[case("5\u{2019} 4\u{201d}", inches(64, 0, 1))]
#[case("5' 4''", inches(64, 0, 1))]
#[case("5 ft 4 in", inches(64, 0, 1))]
#[case("5ft4in", inches(64, 0, 1))]
#[case("5 FEET 4 Inches", inches(64, 0, 1))]
#[case("5' \u{be}", inches(60, 3, 4))]
#[case("5' 4.25\"", inches(64, 1, 4))]
#[case("-5' 4\"", -inches(64, 0, 1))]
#[case("8'-0\"", inches(96, 0, 1))]
// metric beside inches
#[case("590mm", Length::mm(590))]
#[case("59 cm", Length::mm(590))]
#[case("1.5 m", Length::mm(1500))]
#[case("1,5 m", Length::mm(1500))]
#[case("2,440 m", Length::mm(2440))]
#[case("23,5 mm", Length::um(23_500))]
#[case("0,500 mm", Length::um(500))]
#[case("59 1/2 mm", Length::um(59_500))]
#[case("0.794 mm", Length::um(794))]
#[case("1000 metres", Length::METRE * 1000)]
fn reads_where_inches_are_the_default(#[case] text: &str, #[case] expected: Length) {
    let stated = read_length(text, IN).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    assert_eq!(stated.length, expected, "{text}");
    let metric = text.contains("mm") || text.contains("cm") || text.contains(" m");
    assert_eq!(stated.unit, if metric { MM } else { IN }, "{text}");
}

#[rstest]
#[case("590", "590 mm")]
#[case("590.5", "590.5 mm")]
#[case("590,5", "590.5 mm")]
#[case("1234,567", "1234.567 mm")]
#[case("0,794", "0.794 mm")]
#[case("23 3/16 in", "23 3/16 in")]
#[case("23 3/16\"", "23 3/16 in")]
#[case("5' 4", "64 in")]
#[case("3/4 in", "3/4 in")]
#[case("18.25 in", "18 1/4 in")]
#[case("-3 mm", "-3 mm")]
fn reads_where_millimetres_are_the_default(#[case] text: &str, #[case] expected: &str) {
    let stated = read_length(text, MM).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    assert_eq!(stated.to_string(), expected);
}

#[rstest]
#[case("", 0, "expected a length, found nothing; write \"23 3/16\"")]
#[case(" \u{feff}\u{a0}", 6, "expected a length, found nothing; write \"23 3/16\"")]
#[case("wide", 0, "expected a length, found `wide`; write \"23 3/16\"")]
#[case("NaN", 0, "expected a length, found `NaN`; write \"23 3/16\"")]
#[case("+5", 0, "expected a length, found `+5`; write \"23 3/16\"")]
#[case("-", 1, "expected a length after `-`, found the end; write \"23 3/16\"")]
#[case("\u{202e}12", 0, "expected a length, found ` 12`; write \"23 3/16\"")]
#[case("23 3/", 3, "expected a fraction such as 3/16 after `23 `, found `3/`; write \"23 3/16\"")]
#[case("23 3", 3, "expected a fraction such as 3/16 after `23 `, found `3`; write \"23 3/16\"")]
#[case("23 /16", 3, "expected a fraction such as 3/16 after `23 `, found `/16`; write \"23 3/16\"")]
#[case("23-3", 3, "expected a fraction such as 3/16 after `23-`, found `3`; write \"23 3/16\"")]
#[case("23 - 5/8", 3, "expected a fraction such as 3/16 after `23 `, found `- 5/8`; write \"23 5/8\"")]
#[case("3 1.5/16", 2, "expected a fraction such as 3/16 after `3 `, found `1.5/16`; write \"3 3/16\"")]
#[case(
    "-23 1/3",
    6,
    "expected a denominator of 2, 4, 8, 16, 32 or 64 after `-23 1/`, found `3`; write \"-23 21/64\""
)]
#[case("1/128", 2, "expected a denominator of 2, 4, 8, 16, 32 or 64 after `1/`, found `128`; write \"1/64\"")]
#[case("1/0", 2, "expected a denominator of 2, 4, 8, 16, 32 or 64 after `1/`, found `0`; write \"3/16\"")]
#[case(
    "23 \u{2153}",
    3,
    "expected a fraction in halves, quarters or eighths after `23 `, found `\u{2153}`; write \"23 21/64\""
)]
#[case("23 17/16", 3, "expected a fraction below one after `23 `, found `17/16`; write \"24 1/16\"")]
#[case("135/16", 0, "expected a fraction below one, found `135/16`; write \"8 7/16\"")]
#[case("64.5 3/16", 5, "expected a unit or the end after `64.5 `, found `3/16`; write \"64 1/2\"")]
#[case("590 pixels", 4, "expected a unit or the end after `590 `, found `pixels`; write \"590\"")]
#[case("1e5", 1, "expected a unit or the end after `1`, found `e5`; write \"1\"")]
#[case("1.5.5", 3, "expected a unit or the end after `1.5`, found `.5`; write \"1 1/2\"")]
#[case("1 500 mm", 2, "expected a unit or the end after `1 `, found `500 mm`; write \"1500 mm\"")]
#[case("1,500.25 mm", 5, "expected a unit or the end after `1,500`, found `.25 mm`; write \"1500.25 mm\"")]
#[case("24 in 3", 6, "expected the end after `24 in `, found `3`; write \"24\"")]
#[case("5' 14\"", 3, "expected less than a foot of inches after `5' `, found `14\"`; write \"74\"")]
#[case("5.5' 3\"", 0, "expected whole feet before inches, found `5.5' 3\"`; write \"69\"")]
#[case("5' 3 mm", 5, "expected inches after `5' 3 `, found `mm`; write \"63\"")]
#[case("5' x", 3, "expected inches after `5' `, found `x`; write \"64 1/2\"")]
#[case("5' 4\" 3", 6, "expected the end after `5' 4\" `, found `3`; write \"64\"")]
#[case("23,5", 0, "expected a decimal point in inches, found `23,5`; write \"23 1/2\"")]
#[case("1,500 mm", 0, "`1,500 mm` may be one length or a thousandth of it; write \"1500 mm\" or \"1.5 mm\"")]
#[case("1001 m", 0, "expected a length of at most 1 km, found `1001 m`; write \"23 3/16\"")]
#[case(
    "99999999999999999999999999999999999999999999 in",
    0,
    "expected a length of at most 1 km, found `99999999999999999999999999999999..`; write \"23 3/16\""
)]
#[case("0.33333333333333333", 0, "`0.33333333333333333` is finer than a nanometre; write \"21/64\"")]
#[case("1.2345678 mm", 0, "`1.2345678 mm` is finer than a nanometre; write \"1.234 mm\"")]
fn refuses_where_inches_are_the_default(#[case] text: &str, #[case] offset: usize, #[case] message: &str) {
    let fault = read_length(text, IN).expect_err(text);
    assert_eq!((fault.to_string().as_str(), fault.offset), (message, offset));
}

#[rstest]
#[case("3/4", "`3/4` is a fraction, which millimetres are not written in; write \"3/4 in\"")]
#[case("1,500", "`1,500` may be one length or a thousandth of it; write \"1500\" or \"1.5\"")]
#[case("1 500", "expected a unit or the end after `1 `, found `500`; write \"1500\"")]
#[case("2000 m", "expected a length of at most 1 km, found `2000 m`; write \"590\"")]
fn refuses_where_millimetres_are_the_default(#[case] text: &str, #[case] message: &str) {
    assert_eq!(read_length(text, MM).expect_err(text).to_string(), message);
}

#[rstest]
#[case("24", "`24` has no unit; write \"24 in\" or \"24 mm\"")]
#[case("-23 3/16", "`-23 3/16` has no unit; write \"-23 3/16 in\"")]
#[case("23,5", "`23,5` has no unit; write \"23,5 mm\"")]
#[case("1,500", "`1,500` may be one length or a thousandth of it; write \"1500 mm\" or \"1.5 mm\"")]
#[case("590 pixels", "expected a unit such as `in` or `mm` after `590 `, found `pixels`; write \"590 in\"")]
fn a_plan_states_every_unit(#[case] text: &str, #[case] message: &str) {
    assert_eq!(text.parse::<Stated>().expect_err(text).to_string(), message);
}

#[test]
fn a_bare_number_in_a_file_is_told_what_it_lacks() {
    let message = |json: &str| serde_json::from_str::<Stated>(json).expect_err(json).to_string();
    assert!(message("24").starts_with("`24` has no unit; write \"24 in\" or \"24 mm\""));
    assert!(message("-24").starts_with("`-24` has no unit; write \"-24 in\" or \"-24 mm\""));
    assert!(message("23.5").starts_with("`23.5` has no unit; write \"23.5 in\" or \"23.5 mm\""));
    assert!(message("true").contains("a length with its unit, such as \"23 3/16 in\" or \"590 mm\""));
    let stated: Stated = serde_json::from_str("\"5' 4 1/2\\\"\"").expect("reads");
    assert_eq!(serde_json::to_string(&stated).expect("writes"), "\"64 1/2 in\"");
}

mod properties {
    use super::*;
    use dryfit_measure::{Fineness, LONGEST, Toward};
    use proptest::prelude::*;

    fn fineness() -> impl Strategy<Value = Fineness> {
        prop::sample::select(Fineness::ALL.to_vec())
    }

    fn toward() -> impl Strategy<Value = Toward> {
        prop::sample::select(vec![Toward::Down, Toward::Up, Toward::Nearest])
    }

    fn length() -> impl Strategy<Value = Length> {
        (-LONGEST.nm()..=LONGEST.nm()).prop_map(Length::from_nm)
    }

    /// Text that is nearly a length, where the faults are.
    fn nearly() -> impl Strategy<Value = String> {
        let bits = [
            "1",
            "23",
            "500",
            "3/16",
            "1/3",
            "/",
            "-",
            " ",
            "'",
            "\"",
            ".",
            ",",
            "\u{be}",
            "\u{2153}",
            "in",
            "ft",
            "mm",
            "cm",
            "m",
            "0",
            "x",
            "\u{a0}",
            "9999999999999999999",
        ];
        prop::collection::vec(prop::sample::select(bits.to_vec()), 0..8).prop_map(|bits| bits.concat())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn a_stated_length_reads_back_exactly(length in length(), metric in any::<bool>()) {
            let stated = Stated { length, unit: if metric { MM } else { IN } };
            let read: Stated = stated.to_string().parse().expect("own text reads");
            prop_assert_eq!(read.length, length);
            let exact_in_inches = length.nm() % 127 == 0;
            prop_assert_eq!(read.unit, if metric || !exact_in_inches { MM } else { IN });
        }

        #[test]
        fn inches_read_back_as_inches(sixty_fourths in -2_519_685_i64..2_519_685) {
            let stated = Stated::inches(Length::sixty_fourths(sixty_fourths));
            prop_assert_eq!(stated.to_string().parse(), Ok(stated));
        }

        #[test]
        fn a_printed_figure_reads_back(length in length(), fineness in fineness(), toward in toward()) {
            let figure = length.figure(fineness, toward);
            let mark = length.round_to(fineness, toward);
            // the mark above the longest length is printed, but not read
            prop_assume!(mark.abs() <= LONGEST);
            prop_assert_eq!(figure.length(), mark);
            prop_assert_eq!(figure.in_feet().length(), mark);
            for text in [figure.to_string(), figure.bare().to_string(), figure.in_feet().to_string(),
                figure.in_feet().bare().to_string()]
            {
                let read = read_length(&text, fineness.unit()).expect("own figure reads");
                prop_assert_eq!(read, Stated { length: mark, unit: fineness.unit() }, "{}", text);
            }
        }

        #[test]
        fn rounding_goes_the_right_way(length in length(), fineness in fineness()) {
            let step = fineness.step();
            let [down, up, near] = [Toward::Down, Toward::Up, Toward::Nearest].map(|t| length.round_to(fineness, t));
            prop_assert!(down <= length && length - down < step);
            prop_assert!(up >= length && up - length < step);
            prop_assert!((near - length).abs() * 2 <= step);
            for mark in [down, up, near] {
                prop_assert_eq!(mark.nm() % step.nm(), 0);
                prop_assert_eq!(mark.round_to(fineness, Toward::Up), mark);
            }
        }

        #[test]
        fn parts_sum_exactly(length in length(), n in 1_usize..40) {
            let parts = length.split(n);
            prop_assert_eq!(parts.len(), n);
            prop_assert_eq!(parts.iter().sum::<Length>(), length);
            prop_assert!(parts.windows(2).all(|pair| pair[0] >= pair[1]));
            prop_assert!(parts[0] - parts[n - 1] <= Length::from_nm(1));
            let n = i64::try_from(n).expect("small");
            prop_assert!(length.div_floor(n) * n <= length && length.div_ceil(n) * n >= length);
        }

        #[test]
        fn no_text_panics_and_every_example_would_do(text in prop_oneof![".*", nearly()]) {
            for default in [Some(IN), Some(MM), None] {
                let read = |text: &str| match default {
                    Some(unit) => read_length(text, unit),
                    None => text.parse::<Stated>(),
                };
                let Err(fault) = read(&text) else { continue };
                prop_assert!(text.is_char_boundary(fault.offset), "{:?} {:?}", text, fault);
                for example in [Some(&fault.example), fault.or.as_ref()].into_iter().flatten() {
                    prop_assert!(read(example).is_ok(), "{:?} {:?}", text, fault);
                }
                let message = fault.to_string();
                prop_assert!(!message.contains('\n') && !message.ends_with('.'));
            }
        }
    }
}
