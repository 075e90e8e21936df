//! What building codes ask of pipes, ducts and boxes: their tables as data, each with its clause.
//!
//! Local code governs; what stands here helps to ask the right question, and approves nothing.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use dryfit_measure::{Length, Stated};
use serde::Deserialize;

use crate::Source;

/// One family of plumbing codes.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CodeFamily {
    /// The editions whose clauses are known here, oldest first.
    pub editions: Vec<String>,
    /// The edition of the electrical code (NFPA 70) that goes with each.
    pub electrical: BTreeMap<String, String>,
    /// Fall of a drain in twelve inches, by its size.
    pub fall: SizedRule,
    /// The longest trap arm, weir to vent, by its size.
    pub arm: ArmRule,
    /// The standpipe of a washer, above its trap's weir.
    pub standpipe: RangeRule,
    /// How far a trap's weir may be from its fixture's outlet.
    pub outlet: OutletRule,
    /// The water that a trap holds.
    pub seal: RangeRule,
    /// Vents.
    pub vent: VentRule,
    /// Drainage fixture units, and what a horizontal branch may carry by its size.
    pub units: UnitRule,
    /// The length of a dryer's exhaust duct.
    pub duct: DuctRule,
    /// Hot to the left.
    pub hand: PlainRule,
}

/// Where a rule stands.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlainRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
}

/// A row of a table by size.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SizeRow {
    /// Sizes up to this one.
    pub upto: Stated,
    /// The value.
    pub most: Stated,
}

/// A table by the size of a pipe.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct SizedRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// From small to large.
    pub rows: Vec<SizeRow>,
}

/// Trap arms.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ArmRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// From small to large.
    pub rows: Vec<SizeRow>,
    /// How many of its diameters it is long at least.
    pub least_diameters: i64,
}

/// Between two lengths.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct RangeRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// At least.
    pub least: Stated,
    /// At most.
    pub most: Stated,
}

/// From a fixture's outlet to its trap's weir.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct OutletRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// Down, at most.
    pub down: Stated,
    /// Across, at most.
    pub across: Stated,
}

/// Vents.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct VentRule {
    /// Its clause: half its drain's size, and no smaller than `least`.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// The smallest.
    pub least: Stated,
    /// The clause on where it may turn.
    pub rise_cite: String,
    /// How far above the fixture's rim it rises before it turns from upright.
    pub rise: Stated,
}

/// Fixture units.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct UnitRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// A sink's.
    pub sink: u32,
    /// A clothes washer's.
    pub washer: u32,
    /// What a horizontal branch carries.
    pub rows: Vec<UnitRow>,
}

/// What a branch of a size carries.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitRow {
    /// Sizes up to this one.
    pub upto: Stated,
    /// Fixture units.
    pub units: u32,
}

/// How long a dryer's duct may be.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct DuctRule {
    /// Its clause.
    pub cite: String,
    /// Its number in editions that call it otherwise.
    #[serde(default)]
    pub in_edition: BTreeMap<String, String>,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// Without turns.
    pub most: Stated,
    /// What a quarter turn takes off, where its fitting does not say otherwise.
    pub turn: Stated,
    /// Quarter turns that take nothing off, whatever their fittings say.
    #[serde(default)]
    pub turns_free: u32,
}

/// What may be taken out of a stud.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct FramingRule {
    bore_cite: Cite,
    /// Of its depth, percent, a hole in a stud that bears.
    pub bore_bearing: i64,
    /// The same in one that does not.
    pub bore_other: i64,
    /// Wood left between hole and face.
    pub bore_edge: Stated,
    /// Of its depth, percent, a notch in a stud that bears.
    pub notch_bearing: i64,
    /// The same in one that does not.
    pub notch_other: i64,
}

#[derive(Clone, Debug, Deserialize)]
struct Cite {
    name: String,
    clause: String,
}

/// The electrical code, as far as boxes and cables need it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ElectricalRules {
    /// Wood before a cable or pipe, less than which asks for a steel plate.
    pub plate: DeepRule,
    /// What a conductor takes up in a box.
    pub fill: FillRule,
    /// Receptacles along a counter.
    pub counter: CounterRule,
    /// From an appliance to its receptacle.
    pub cord: ReachRule,
    /// Receptacles near a sink.
    pub ground_fault: ReachRule,
    /// How far a box may stay behind the finish.
    pub flush: FlushRule,
    /// Boxes stay accessible.
    pub access: PlainRule,
}

/// A depth.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct DeepRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// How deep.
    pub deep: Stated,
}

/// Box fill.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct FillRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    rows: Vec<FillRow>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FillRow {
    gauge: u8,
    volume: u32,
}

impl FillRule {
    /// What one conductor of this gauge takes up, thousandths of a cubic inch; none for gauges not in the table.
    pub fn conductor(&self, gauge: u8) -> Option<u32> {
        self.rows.iter().find(|row| row.gauge == gauge).map(|row| row.volume)
    }
}

/// Receptacles along a counter.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CounterRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// A stretch this wide gets one.
    pub width: Stated,
    /// No place is further from one.
    pub reach: Stated,
    /// It is no higher above the counter.
    pub above: Stated,
}

/// A reach.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct ReachRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// How far.
    pub reach: Stated,
}

/// Boxes and the finish.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct FlushRule {
    /// Its clause.
    pub cite: String,
    /// Whether the clause was seen, or is from memory.
    #[serde(default = "yes")]
    pub seen: bool,
    /// Behind a finish that does not burn, at most.
    pub back: Stated,
}

const fn yes() -> bool {
    true
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Codes {
    plumbing: BTreeMap<String, CodeFamily>,
    framing: FramingRule,
    nec: ElectricalRules,
}

static CODES: LazyLock<Codes> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/codes.toml")).expect("our own table reads; a test proves it")
});

/// The families by name.
pub fn code_families() -> &'static BTreeMap<String, CodeFamily> {
    &CODES.plumbing
}

/// What may be taken out of a stud.
pub fn framing_rule() -> &'static FramingRule {
    &CODES.framing
}

/// The electrical code.
pub fn electrical_rules() -> &'static ElectricalRules {
    &CODES.nec
}

/// The row of a table that a size falls in.
fn row<T>(rows: &[T], upto: impl Fn(&T) -> Length, size: Length) -> Option<&T> {
    rows.iter().find(|row| upto(row) >= size)
}

impl SizedRule {
    /// The value for a size; none for one past the table.
    pub fn at(&self, size: Length) -> Option<Length> {
        row(&self.rows, |row| row.upto.length, size).map(|row| row.most.length)
    }
}

impl ArmRule {
    /// The longest arm of a size; none for one past the table.
    pub fn at(&self, size: Length) -> Option<Length> {
        row(&self.rows, |row| row.upto.length, size).map(|row| row.most.length)
    }
}

impl UnitRule {
    /// What a branch of a size carries; none for one past the table.
    pub fn at(&self, size: Length) -> Option<u32> {
        row(&self.rows, |row| row.upto.length, size).map(|row| row.units)
    }
}

impl DuctRule {
    /// Its clause in an edition.
    pub fn cite_in(&self, edition: &str) -> &str {
        self.in_edition.get(edition).unwrap_or(&self.cite)
    }
}

impl FramingRule {
    /// Where it stands.
    pub fn source(&self) -> Source {
        Source::Standard { name: self.bore_cite.name.clone(), clause: self.bore_cite.clause.clone() }
    }
}

/// A clause of a code: verified, or from memory.
pub fn clause(name: &str, edition: &str, cite: &str, seen: bool) -> Source {
    if seen {
        Source::Standard { name: format!("{name} {edition}"), clause: cite.to_owned() }
    } else {
        Source::Unverified { name: format!("{name} {edition}, {cite}") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        format!("{text} in").parse::<Stated>().expect("a length").length
    }

    #[test]
    fn trap_arms_are_those_of_the_tables() {
        // IRC Table P3105.1, IPC 909.1: F-arm-irc-1.25 to -4; UPC Table 1002.2: F-arm-upc-1.25 to -4
        let sizes = ["1 1/4", "1 1/2", "2", "3", "4"];
        let feet = |family: &str| sizes.map(|size| code_families()[family].arm.at(inches(size)));
        assert_eq!(feet("IRC"), [5, 6, 8, 12, 16].map(|feet| Some(Length::feet(feet))));
        assert_eq!(feet("IPC"), feet("IRC"));
        let upc = ["30", "42", "60", "72", "120"].map(|length| Some(inches(length)));
        assert_eq!(feet("UPC"), upc);
        assert_eq!(code_families()["UPC"].arm.at(inches("6")), None);
    }

    #[test]
    fn drains_fall_by_their_size() {
        // F-slope, IRC P3005.3: 1/4 in to the foot up to 2 1/2 in, 1/8 up to 6, 1/16 above
        let fall = &code_families()["IRC"].fall;
        let found = ["1 1/2", "2 1/2", "3", "6", "8"].map(|size| fall.at(inches(size)));
        let expected = ["1/4", "1/4", "1/8", "1/8", "1/16"].map(|text| Some(inches(text)));
        assert_eq!(found, expected);
    }

    #[test]
    fn fixture_units_and_what_branches_carry() {
        // F-dfu-irc-clothes-washer 2, F-dfu-irc-kitchen-sink 2; F-dfu-upc-clothes-washer 3, -laundry-sink 2
        let [irc, upc] = ["IRC", "UPC"].map(|family| &code_families()[family].units);
        assert_eq!((irc.sink, irc.washer, upc.sink, upc.washer), (2, 2, 2, 3));
        // F-cap-irc-b-2 6, -3 20; F-cap-upc-h-2 8, -2.5 14, -3 35, -4 216
        assert_eq!(["2", "3"].map(|size| irc.at(inches(size))), [Some(6), Some(20)]);
        let carried = ["2", "2 1/2", "3", "4"].map(|size| upc.at(inches(size)));
        assert_eq!(carried, [Some(8), Some(14), Some(35), Some(216)]);
    }

    #[test]
    fn conductors_take_up_what_the_table_says() {
        // G-vol-14 to G-vol-6, NEC Table 314.16(B)
        let fill = &electrical_rules().fill;
        let found = [14, 12, 10, 8, 6].map(|gauge| fill.conductor(gauge));
        assert_eq!(found, [2_000, 2_250, 2_500, 3_000, 5_000].map(Some));
        assert_eq!(fill.conductor(3), None);
    }

    #[test]
    fn every_family_says_which_electrical_code_goes_with_its_editions() {
        for (name, family) in code_families() {
            for edition in &family.editions {
                assert!(family.electrical.contains_key(edition), "{name} {edition}");
            }
            assert!(family.standpipe.least < family.standpipe.most);
        }
        // conflicts table: M1502.4.5.1 in 2018, M1502.4.6.1 from 2021
        let duct = &code_families()["IRC"].duct;
        assert_eq!((duct.cite_in("2018"), duct.cite_in("2021")), ("M1502.4.5.1", "M1502.4.6.1"));
    }
}
