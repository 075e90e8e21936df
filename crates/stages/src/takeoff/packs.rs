//! Packs: which and how many, so that what is missing is covered for the least money.

use dryfit_measure::{Amount, Key, Length, Measure, Money};
use dryfit_plan::{Form, Good, Pack, Plan, ReceiptLine};

/// So many of one sort of pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackCount {
    /// Which pack of the good.
    pub pack: Key,
    /// How many.
    pub count: u32,
    /// What they cost, without tax; none where no price is known.
    pub price: Option<Money>,
}

/// The most mixes that are looked at; what is best of them stands.
const MOST_TRIED: u32 = 20_000;

/// What a pack of a good holds, in the measure of what is needed: a bare number of what is needed by volume is
/// millilitres, and pieces that have a length of their own are worth that length.
pub fn held(good: &Good, pack: &Pack, measure: Measure) -> Option<Amount> {
    let holds = match (pack.holds.amount(), measure) {
        (Amount::Pieces(bare), Measure::Volume) => Amount::millilitres(i128::from(bare)),
        (Amount::Pieces(pieces), Measure::Length) => Amount::Length(length(&good.form)?).times(pieces),
        (holds, _) => holds,
    };
    Some(holds).filter(|holds| holds.measure() == measure && !holds.is_none())
}

/// What one pack of a receipt's line holds: the pack that it names, the only one that its good has, or a piece.
pub fn of_line(plan: &Plan, line: &ReceiptLine, measure: Measure) -> Option<Amount> {
    let good = plan.goods.get(line.good.as_ref()?)?;
    let only = || good.packs.values().next().filter(|_| good.packs.len() == 1);
    match &line.pack {
        Some(named) => held(good, good.packs.get(named)?, measure),
        None => match only() {
            Some(pack) => held(good, pack, measure),
            None => Some(Amount::Pieces(1)).filter(|piece| piece.measure() == measure),
        },
    }
}

/// The length of one piece of what is sold by length.
fn length(form: &Form) -> Option<Length> {
    match form {
        Form::Board(board) => Some(board.length.length),
        _ => None,
    }
}

/// The cheapest mix of packs that covers `missing`: packs without a price only where none has one; of two mixes
/// at one price the one with fewer packs, then the one that leaves less over. Empty when nothing is missing or
/// no pack says how much it holds in the measure of what is missing.
pub fn cheapest(good: &Good, missing: Amount) -> Vec<PackCount> {
    if missing.is_none() {
        return Vec::new();
    }
    let asked = good.packs.values().any(|pack| pack.price.is_some());
    let mut sorts: Vec<Sort<'_>> = good
        .packs
        .iter()
        .filter(|(_, pack)| pack.price.is_some() || !asked)
        .filter_map(|(key, pack)| {
            let holds = held(good, pack, missing.measure())?;
            // where nobody asked for prices the fewest packs win
            let price = pack.price.map_or(1, |price| i128::from(price.hundredths()).max(0));
            Some(Sort { key, holds: holds.base(), price })
        })
        .collect();
    // the most for the money first; the keys settle what is alike
    sorts.sort_by(|a, b| {
        let per_amount = |a: &Sort<'_>, b: &Sort<'_>| a.price.saturating_mul(b.holds);
        per_amount(a, b).cmp(&per_amount(b, a)).then(b.holds.cmp(&a.holds)).then(a.key.cmp(b.key))
    });
    let mut search = Search { best: None, tried: 0 };
    search.fill(&sorts, missing.base(), &mut vec![0; sorts.len()], Cost::default());
    let counts = search.best.map(|(_, counts)| counts).unwrap_or_default();
    let chosen = sorts.iter().zip(counts).filter(|(_, count)| *count > 0);
    let mut packs: Vec<PackCount> = chosen
        .map(|(sort, count)| {
            let price = good.packs.get(sort.key).and_then(|pack| pack.price);
            PackCount { pack: sort.key.clone(), count, price: price.map(|price| price * i64::from(count)) }
        })
        .collect();
    packs.sort_by(|a, b| a.pack.cmp(&b.pack));
    packs
}

/// One sort of pack, in bare numbers.
struct Sort<'a> {
    key: &'a Key,
    holds: i128,
    price: i128,
}

/// What a mix costs: money first, then packs, then what is left over.
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Cost {
    money: i128,
    packs: u32,
    over: i128,
}

/// Branch and bound over how many of each sort are taken.
struct Search {
    best: Option<(Cost, Vec<u32>)>,
    tried: u32,
}

impl Search {
    /// Tries every number of the first sort, the most first, with what the others make of the rest: they give
    /// nothing cheaper than the first of them does by the amount.
    fn fill(&mut self, sorts: &[Sort<'_>], missing: i128, chosen: &mut Vec<u32>, cost: Cost) {
        let Some((sort, rest)) = sorts.split_first() else { return };
        let place = chosen.len() - sorts.len();
        let full = missing / sort.holds + i128::from(missing % sort.holds > 0);
        let Ok(most) = u32::try_from(full) else { return };
        let least = if rest.is_empty() { most } else { 0 };
        for count in (least..=most).rev() {
            let left = missing - sort.holds.saturating_mul(i128::from(count));
            let money = cost.money + sort.price.saturating_mul(i128::from(count));
            let bound = rest.first().map_or(0, |next| left.max(0).saturating_mul(next.price) / next.holds);
            let beaten = self.best.as_ref().is_some_and(|(known, _)| money + bound > known.money);
            // one less of the cheapest sort is never cheaper, except of what covers too much
            if (beaten && left > 0) || self.tried >= MOST_TRIED {
                break;
            }
            self.tried += 1;
            chosen[place] = count;
            let spent = Cost { money, packs: cost.packs.saturating_add(count), over: -left };
            if left > 0 {
                self.fill(rest, left, chosen, spent);
            } else if self.best.as_ref().is_none_or(|(known, _)| spent < *known) {
                self.best = Some((spent, chosen.clone()));
            }
            chosen[place] = 0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn good(packs: &[(&str, u32, Option<i64>)]) -> Good {
        let pack = |&(key, holds, price): &(&str, u32, Option<i64>)| {
            let price = price.map(Money::from_hundredths);
            (Key::new(key).expect("a key"), Pack { holds: holds.into(), price, asked_on: None })
        };
        Good {
            name: "screws".into(),
            form: Form::Supply {},
            packs: packs.iter().map(pack).collect(),
            category: None,
            spare: None,
            serves: None,
            one_batch: false,
            lead_days: None,
            look_for: None,
        }
    }

    fn mix(packs: &[(&str, u32, Option<i64>)], missing: u32) -> Vec<(String, u32)> {
        cheapest(&good(packs), Amount::Pieces(missing))
            .into_iter()
            .map(|pack| (pack.pack.to_string(), pack.count))
            .collect()
    }

    #[test]
    fn a_mix_is_cheaper_than_either_sort() {
        // by hand: 2 boxes 13.60, 5 bags 12.50, a box and a bag 9.30
        let sorts = [("bag", 25, Some(250)), ("box", 100, Some(680))];
        assert_eq!(mix(&sorts, 125), [("bag".to_owned(), 1), ("box".to_owned(), 1)]);
        // at the limit: 100 are one box; 1 is one bag
        assert_eq!(mix(&sorts, 100), [("box".to_owned(), 1)]);
        assert_eq!(mix(&sorts, 1), [("bag".to_owned(), 1)]);
        assert_eq!(mix(&sorts, 0), []);
    }

    #[test]
    fn no_mix_of_any_packs_is_cheaper() {
        // every mix, tried one by one
        let sorts = [("a", 7, Some(199)), ("b", 12, Some(325)), ("c", 50, Some(1250))];
        for missing in 1..140 {
            let found = cheapest(&good(&sorts), Amount::Pieces(missing));
            let paid: Money = found.iter().filter_map(|pack| pack.price).sum();
            let mut least = i64::MAX;
            for a in 0..=20 {
                for b in 0..=12 {
                    for c in 0..=3 {
                        if a * 7 + b * 12 + c * 50 >= i64::from(missing) {
                            least = least.min(a * 199 + b * 325 + c * 1250);
                        }
                    }
                }
            }
            assert_eq!(paid.hundredths(), least, "{missing} missing");
        }
    }

    #[test]
    fn packs_without_a_price_wait_for_those_with_one() {
        let sorts = [("bag", 25, None), ("box", 100, Some(680))];
        assert_eq!(mix(&sorts, 20), [("box".to_owned(), 1)]);
        assert_eq!(mix(&[("bag", 25, None), ("box", 100, None)], 60), [("box".to_owned(), 1)]);
    }

    #[test]
    fn published_pack_counts() {
        // L-pack: 90.24 lb in bags of 25 lb are 4 (a grout chart's worked example); 200 sq ft at 65 a bag are 4
        // (a mortar page's worked example)
        let lb = |lb| Amount::Mass(dryfit_measure::Mass::from_pounds(lb));
        assert_eq!(lb(90.24).packs_of(lb(25.0)), Some(4));
        let foot = dryfit_measure::Length::FOOT * dryfit_measure::Length::FOOT;
        assert_eq!(Amount::Area(foot * 200).packs_of(Amount::Area(foot * 65)), Some(4));
    }

    #[test]
    fn many_packs_are_counted_at_once() {
        assert_eq!(
            mix(&[("one", 1, Some(1)), ("two", 2, Some(3))], 4_000_000_000),
            [("one".to_owned(), 4_000_000_000)]
        );
    }
}
