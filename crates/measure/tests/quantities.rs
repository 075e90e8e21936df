//! Lengths, areas, masses, angles and money against published and worked figures.

use dryfit_measure::{
    Angle, Currency, Density, Fineness, Key, Length, Mass, Money, Pointer, Rate, Rounding, StatedDensity,
    StatedMass, Toward, Unit, natural_order, share,
};
use rstest::rstest;
use rust_decimal::Decimal;

fn inches(whole: i64, num: i64, den: i64) -> Length {
    Length::inches(whole, num, den)
}

/// Geometry: the 3-4-5 square, the diagonal of a 4 x 8 ft sheet, the depth a degree takes off 24 in.
#[test]
fn diagonals_and_angles() {
    assert_eq!(inches(36, 0, 1).hypot(inches(48, 0, 1)), inches(60, 0, 1));
    let sheet = inches(48, 0, 1).hypot(inches(96, 0, 1));
    assert!((sheet.as_inches_f64() - 107.331_262_919_989_91).abs() < 1e-7, "{sheet:?}");
    let gap = inches(24, 0, 1).scaled(Angle::from_degrees(1.0).tan());
    assert!((gap.as_inches_f64() - 0.418_921_558_277_222_05).abs() < 1e-6, "{gap:?}");
    // the longest lengths do not overflow
    assert_eq!(Length::from_nm(i64::MIN).hypot(Length::from_nm(i64::MIN)), Length::from_nm(i64::MAX));
}

/// Proportion: a wall 3/8 in out of plumb over 96 in, at the top of a 34 1/2 in unit.
#[test]
fn out_of_plumb_at_a_height() {
    let out = inches(0, 3, 8).proportion(inches(34, 1, 2), inches(96, 0, 1));
    assert!((out.as_inches_f64() - 0.134_765_625).abs() < 1e-7);
    assert_eq!(inches(1, 0, 1).proportion(Length::MM, Length::ZERO), Length::ZERO);
    assert_eq!(Length::from_nm(-5).proportion(Length::from_nm(1), Length::from_nm(2)), Length::from_nm(-3));
}

/// Arithmetic: how many pieces a 48 in sheet gives with a kerf of 1/8 in, as floor((W + k) / (w + k)).
#[rstest]
#[case(inches(24, 0, 1), 1)]
#[case(inches(23, 15, 16), 2)]
#[case(inches(11, 1, 4), 4)]
fn pieces_from_a_sheet(#[case] piece: Length, #[case] pieces: i64) {
    let kerf = inches(0, 1, 8);
    assert_eq!((inches(48, 0, 1) + kerf).fits(piece + kerf), pieces);
}

#[test]
fn covering_rounds_up_and_fitting_down() {
    let (wall, board) = (inches(97, 0, 1), inches(48, 0, 1));
    assert_eq!((wall.fits(board), wall.needs(board)), (2, 3));
    assert_eq!((inches(96, 0, 1).fits(board), inches(96, 0, 1).needs(board)), (2, 2));
    assert_eq!((Length::ZERO.needs(board), wall.needs(Length::ZERO), (-wall).needs(board)), (0, 0, 0));
}

/// Density by volume: a 4 x 8 ft sheet 3/4 in thick at 45 lb/ft3 weighs 90.0 lb.
#[test]
fn a_sheet_weighs() {
    let density: StatedDensity = "45 lb/ft3".parse().expect("reads");
    let sheet = Length::feet(4) * Length::feet(8) * inches(0, 3, 4);
    let mass = sheet * density.density;
    assert!((mass.as_pounds_f64() - 90.0).abs() < 1e-4, "{mass:?}");
    assert_eq!(mass.figure(Unit::Inch), "90 lb");
    assert_eq!(Mass::from_pounds(0.4).figure(Unit::Inch), "1/2 lb");
    assert_eq!(Mass::from_pounds(-1.5).figure(Unit::Inch), "-1 1/2 lb");
    assert_eq!(
        (Mass::from_kilograms(2.0) * 3 - Mass::from_kilograms(1.0)).figure(Unit::Millimetre),
        "5.0 kg"
    );
}

/// 1 lb = 0.453 592 37 kg, 1 ft3 = 0.028 316 846 592 m3 (international yard and pound agreement, 1959).
#[test]
fn pounds_are_international() {
    assert_eq!(Mass::from_pounds(100.0).milligrams(), 45_359_237);
    assert_eq!(Density::from_pounds_per_cubic_foot(62.428).grams_per_cubic_metre(), 1_000_001);
}

#[rstest]
#[case("165 lb")]
#[case("0.125 lb")]
#[case("99999.999 lb")]
#[case("17.2 kg")]
#[case("0.001 kg")]
fn a_stated_mass_keeps_its_text(#[case] text: &str) {
    assert_eq!(text.parse::<StatedMass>().expect("reads").to_string(), text);
}

#[rstest]
#[case("38", "expected a mass in `lb` or `kg`, found `38`; write \"38 lb\"")]
#[case("-3 lb", "expected a mass in `lb` or `kg`, found `-3 lb`; write \"38 lb\"")]
#[case("12 stone", "expected a mass in `lb` or `kg`, found `12 stone`; write \"38 lb\"")]
#[case("0.12345 kg", "expected a mass in `lb` or `kg`, found `0.12345 kg`; write \"38 lb\"")]
fn a_mass_is_refused(#[case] text: &str, #[case] message: &str) {
    assert_eq!(text.parse::<StatedMass>().expect_err(text).to_string(), message);
}

/// Arithmetic (half up): tax of 8.25 % on 1234.56 is 101.85.
#[test]
fn tax_is_rounded_half_up() {
    let rate: Rate = "8.25 %".parse().expect("reads");
    assert_eq!(rate.of("1234.56".parse().expect("reads")).to_string(), "101.85");
    let half: Rate = "50%".parse().expect("reads");
    assert_eq!(half.of(Money::from_hundredths(1)), Money::from_hundredths(1));
    assert_eq!(half.of(Money::from_hundredths(-1)), Money::from_hundredths(-1));
    assert_eq!(Rate::percent(Decimal::from(-3)), Rate::ZERO);
}

#[rstest]
#[case("6.5", "expected a rate in percent from 0 to 1000, found `6.5`; write \"6.5 %\"")]
#[case("-1 %", "expected a rate in percent from 0 to 1000, found `-1 %`; write \"6.5 %\"")]
#[case("1001 %", "expected a rate in percent from 0 to 1000, found `1001 %`; write \"6.5 %\"")]
#[case("%", "expected a rate in percent from 0 to 1000, found `%`; write \"6.5 %\"")]
fn a_rate_is_refused(#[case] text: &str, #[case] message: &str) {
    assert_eq!(text.parse::<Rate>().expect_err(text).to_string(), message);
}

#[rstest]
#[case("", "expected an amount, found nothing; write \"68.50\"")]
#[case("a lot", "expected an amount, found `a lot`; write \"68.50\"")]
#[case("68,50", "expected an amount with a decimal point and no comma, found `68,50`; write \"68.50\"")]
#[case(
    "1,234.50",
    "expected an amount with a decimal point and no comma, found `1,234.50`; write \"1234.50\""
)]
#[case(
    "1.234,50",
    "expected an amount with a decimal point and no comma, found `1.234,50`; write \"1234.50\""
)]
#[case("-1,234", "expected an amount with a decimal point and no comma, found `-1,234`; write \"-1234.00\"")]
#[case("68.50 EUR", "expected an amount without a sign of currency, found `68.50 EUR`; write \"68.50\"")]
#[case("$68.50", "expected an amount without a sign of currency, found `$68.50`; write \"68.50\"")]
#[case("68.505", "expected an amount in hundredths, found `68.505`; write \"68.51\"")]
#[case("1000000000.01", "expected an amount of at most a billion, found `1000000000.01`; write \"68.50\"")]
#[case("1e3", "expected an amount, found `1e3`; write \"68.50\"")]
fn an_amount_is_refused(#[case] text: &str, #[case] message: &str) {
    assert_eq!(text.parse::<Money>().expect_err(text).to_string(), message);
}

#[test]
fn amounts_print_with_their_currency() {
    let print = |hundredths, currency| Money::from_hundredths(hundredths).with(currency).to_string();
    assert_eq!(print(123_456_789, Currency::Usd), "$1,234,567.89");
    assert_eq!(print(-5, Currency::Gbp), "-\u{a3}0.05");
    assert_eq!(print(100_000, Currency::Eur), "\u{20ac}1,000.00");
    assert_eq!(print(99_999, Currency::Chf), "CHF 999.99");
    assert_eq!(Money::default().to_string(), "0.00");
    assert_eq!((-Money::ZERO).to_string(), "0.00");
    for currency in Currency::ALL {
        assert_eq!(currency.code().parse(), Ok(currency));
    }
}

#[test]
fn money_saturates_and_never_panics() {
    let most = Money::new(Decimal::MAX);
    assert!(most * i64::MAX + most >= most);
    assert_eq!(most.hundredths(), i64::MAX);
    assert_eq!((-most).hundredths(), i64::MIN);
    assert_eq!(share(most, &[i64::MAX, i64::MAX, -1]).len(), 3);
}

#[test]
fn figures_say_which_way_they_were_rounded() {
    let of = |length: Length, fineness, toward| {
        let figure = length.figure(fineness, toward);
        (figure.to_string(), figure.off)
    };
    let odd = inches(12, 33, 64);
    assert_eq!(of(odd, Fineness::In32, Toward::Down), ("12 1/2 in".into(), Rounding::Down));
    assert_eq!(of(odd, Fineness::In32, Toward::Up), ("12 17/32 in".into(), Rounding::Up));
    assert_eq!(of(odd, Fineness::In64, Toward::Nearest), ("12 33/64 in".into(), Rounding::Exact));
    assert_eq!(of(-odd, Fineness::In32, Toward::Down), ("-12 17/32 in".into(), Rounding::Down));
    assert_eq!(of(-Length::um(100), Fineness::Mm1, Toward::Nearest), ("0 mm".into(), Rounding::Up));
    assert_eq!(of(Length::um(500), Fineness::HalfMm, Toward::Nearest), ("0.5 mm".into(), Rounding::Exact));
    assert_eq!(of(inches(0, 3, 4), Fineness::In16, Toward::Nearest), ("3/4 in".into(), Rounding::Exact));
    assert_eq!(of(Length::ZERO, Fineness::In16, Toward::Nearest), ("0 in".into(), Rounding::Exact));
    let feet = inches(12, 0, 1).figure(Fineness::In16, Toward::Nearest).in_feet();
    assert_eq!((feet.to_string(), feet.bare().to_string()), ("1 ft 0 in".into(), "1' 0\"".into()));
}

#[test]
fn wire_forms() {
    let json = |value: serde_json::Value| value.to_string();
    let figure = inches(22, 9, 16).figure(Fineness::In16, Toward::Down);
    assert_eq!(
        json(serde_json::json!(figure)),
        "{\"negative\":false,\"feet\":null,\"whole\":22,\"numerator\":9,\"denominator\":16,\"tenths\":0,\
         \"unit\":\"in\",\"off\":\"exact\"}"
    );
    assert_eq!(json(serde_json::json!(Length::MM)), "1000000");
    assert_eq!(json(serde_json::json!(Fineness::HalfMm)), "\"0.5 mm\"");
    assert_eq!(json(serde_json::json!(Money::from_hundredths(6850))), "\"68.50\"");
    assert_eq!(json(serde_json::json!("6.50 %".parse::<Rate>().expect("reads"))), "\"6.5 %\"");
    assert_eq!(json(serde_json::json!(Pointer::root().child("units").child("b3"))), "\"/units/b3\"");
    assert_eq!(json(serde_json::json!(Angle::from_degrees(22.5))), "\"22.5 deg\"");
    let keyed: std::collections::BTreeMap<Key, Length> =
        ["b10", "b2"].into_iter().map(|key| (Key::literal(key), Length::MM)).collect();
    assert_eq!(json(serde_json::json!(keyed)), "{\"b2\":1000000,\"b10\":1000000}");
}

/// The JSON Schema of every text form allows each of its own examples to be read.
#[test]
fn schema_examples_read() {
    fn check<T: schemars::JsonSchema + std::str::FromStr>() {
        let schema = schemars::schema_for!(T);
        let examples = schema.get("examples").and_then(serde_json::Value::as_array).expect("examples");
        assert!(!examples.is_empty() && schema.get("pattern").is_some());
        for example in examples {
            let text = example.as_str().expect("text");
            assert!(text.parse::<T>().is_ok(), "{text}");
        }
    }
    check::<dryfit_measure::Stated>();
    check::<Unit>();
    check::<Fineness>();
    check::<Money>();
    check::<Rate>();
    check::<Currency>();
    check::<Angle>();
    check::<Key>();
    check::<Pointer>();
    check::<StatedMass>();
    check::<StatedDensity>();
    check::<dryfit_measure::Area>();
}

#[rstest]
#[case("", "expected a key, found nothing; write \"b3\"")]
#[case("b 3", "expected a key of letters, digits, `-` and `_`, found ` ` in `b 3`; write \"b-3\"")]
#[case("-b", "expected a key that begins with a letter or digit, found `-b`; write \"b\"")]
#[case(
    "\u{e9}tag\u{e8}re",
    "expected a key of letters, digits, `-` and `_`, found `\u{e9}` in `\u{e9}tag\u{e8}re`; write \"tag-re\""
)]
#[case(
    "a-very-long-key-that-nobody-would-like-to-type",
    "expected a key of at most 40 characters, found 46; write \"a-very-long-key-that-nobody-would-like-t\""
)]
fn a_key_is_refused(#[case] text: &str, #[case] message: &str) {
    assert_eq!(Key::new(text).expect_err(text).to_string(), message);
}

mod properties {
    use super::*;
    use proptest::prelude::*;
    use std::cmp::Ordering;

    proptest! {
        #[test]
        fn shares_sum_exactly(total in -10_000_000_i64..10_000_000, weights in prop::collection::vec(-5_i64..1_000_000, 1..30)) {
            let total = Money::from_hundredths(total);
            let shares = share(total, &weights);
            prop_assert_eq!(shares.iter().sum::<Money>(), total);
            // no share is a hundredth or more off its proportion
            let all: i64 = weights.iter().map(|&w| w.max(0)).sum();
            for (share, weight) in shares.iter().zip(&weights).filter(|_| all > 0) {
                let exact = total.hundredths() as f64 * (*weight).max(0) as f64 / all as f64;
                prop_assert!((share.hundredths() as f64 - exact).abs() < 1.0);
            }
        }

        #[test]
        fn money_reads_back(hundredths in -100_000_000_000_i64..100_000_000_000) {
            let money = Money::from_hundredths(hundredths);
            prop_assert_eq!(money.to_string().parse(), Ok(money));
            prop_assert_eq!(money.hundredths(), hundredths);
        }

        #[test]
        fn angles_read_back(millionths in -360_000_000_i64..360_000_000) {
            let angle = Angle::from_degrees(millionths as f64 / 1e6);
            let read: Angle = angle.to_string().parse().expect("own text reads");
            prop_assert!((read.radians() - angle.radians()).abs() < 1e-12);
            prop_assert_eq!(read.to_string(), angle.to_string());
        }

        #[test]
        fn no_text_panics_and_every_example_would_do(text in ".*") {
            if let Err(fault) = text.parse::<Key>() { prop_assert!(fault.example.parse::<Key>().is_ok()); }
            if let Err(fault) = text.parse::<Money>() { prop_assert!(fault.example.parse::<Money>().is_ok()); }
            if let Err(fault) = text.parse::<Rate>() { prop_assert!(fault.example.parse::<Rate>().is_ok()); }
            if let Err(fault) = text.parse::<Angle>() { prop_assert!(fault.example.parse::<Angle>().is_ok()); }
            if let Err(fault) = text.parse::<StatedMass>() { prop_assert!(fault.example.parse::<StatedMass>().is_ok()); }
            if let Err(fault) = text.parse::<StatedDensity>() { prop_assert!(fault.example.parse::<StatedDensity>().is_ok()); }
            if let Err(fault) = text.parse::<Currency>() { prop_assert!(fault.example.parse::<Currency>().is_ok()); }
            if let Err(fault) = text.parse::<Fineness>() { prop_assert!(fault.example.parse::<Fineness>().is_ok()); }
        }

        #[test]
        fn natural_order_is_an_order(a in "[ab0-9]{0,6}", b in "[ab0-9]{0,6}", c in "[ab0-9]{0,6}") {
            prop_assert_eq!(natural_order(&a, &b), natural_order(&b, &a).reverse());
            prop_assert_eq!(natural_order(&a, &b) == Ordering::Equal, a == b);
            if natural_order(&a, &b) != Ordering::Greater && natural_order(&b, &c) != Ordering::Greater {
                prop_assert_ne!(natural_order(&a, &c), Ordering::Greater);
            }
        }
    }
}
