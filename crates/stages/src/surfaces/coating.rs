//! How far a coating goes: paint, primer, adhesive, anything that is spread.

use dryfit_handbook::figure;
use dryfit_measure::{Amount, Area, Dim, Key, Length, Pointer, Volume};
use dryfit_plan::{Form, Plan};

/// A coat of something, as thick as it is put on: the area that a volume covers is that volume over its film.
#[derive(Clone, Debug)]
pub struct Coat {
    /// How thick it is put on, wet.
    pub wet_film: Dim,
    /// How thick it dries.
    pub dry_film: Dim,
}

impl Coat {
    /// A coat of a good: what its record says, else what the handbook does.
    pub fn of(plan: &Plan, good: &Key) -> Coat {
        let usual = |id: &'static str| {
            let known = figure(id).map_or(Length::ZERO, |figure| figure.value.length);
            Dim::rule(known, id).named("coat")
        };
        let form = plan.goods.get(good).map(|good| &good.form);
        let Some(Form::Coating { covers, from, dry_film }) = form else {
            return Coat { wet_film: usual("paint-wet-film"), dry_film: usual("paint-dry-film") };
        };
        let at = Pointer::root().child("goods").child(good.as_str()).child("form").child("coating");
        let wet_film = match (from.amount(), covers.amount()) {
            (Amount::Volume(volume), Amount::Area(area)) if area > Area::ZERO => {
                let film = Length::from_nm(i64::try_from(volume.nm3() / area.nm2()).unwrap_or(i64::MAX));
                let by = [at.child("covers"), at.child("from")];
                Dim::taped(film, at.child("covers")).named("coat").decided_by(by)
            }
            _ => usual("paint-wet-film"),
        };
        let dry_film = match dry_film {
            Some(film) => Dim::taped(film.length, at.child("dry_film")).named("dry coat"),
            None => usual("paint-dry-film"),
        };
        Coat { wet_film, dry_film }
    }

    /// What covers an area once.
    pub fn covers(&self, area: Area) -> Volume {
        area * self.wet_film.length()
    }

    /// The same as an amount to buy.
    pub fn needs(&self, area: Area) -> Amount {
        Amount::Volume(self.covers(area))
    }
}

/// Whether a good says, in measures that can be, how far it goes.
pub(crate) fn says_how_far(form: &Form) -> bool {
    match form {
        Form::Coating { covers, from, .. } => {
            matches!((from.amount(), covers.amount()),
                (Amount::Volume(_), Amount::Area(area)) if area > Area::ZERO)
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(form: &str) -> Plan {
        let text = format!(
            r#"
            format = 1
            name = "Paint"
            entry_unit = "in"
            fineness = "1/16 in"
            money = {{ currency = "USD" }}
            room = {{ walk = [], sense = "clockwise" }}
            [goods.p]
            name = "paint"
            form = {form}
            "#
        );
        toml::from_str(&text).expect("a plan")
    }

    fn square_feet(n: i64) -> Area {
        Length::feet(1) * Length::feet(n)
    }

    fn gallons(coat: &Coat, area: Area) -> f64 {
        coat.covers(area).as_litres_f64() / 3.785_411_784
    }

    #[test]
    fn a_gallon_covers_what_its_record_says() {
        let coat =
            Coat::of(&plan(r#"{ coating = { covers = "350 sq ft", from = "1 gal" } }"#), &Key::literal("p"));
        // trade coverage page: 600 sq ft at 350 to the gallon are 1.71; 360 in two coats 2.06
        assert!((gallons(&coat, square_feet(600)) - 1.71).abs() < 0.01);
        assert!((gallons(&coat, square_feet(360)) * 2.0 - 2.06).abs() < 0.01);
    }

    #[test]
    fn a_good_that_does_not_say_goes_as_far_as_paint_usually_does() {
        let coat = Coat::of(&plan("{ supply = {} }"), &Key::literal("p"));
        // trade coverage page: 350 sq ft to the gallon and coat
        assert!((gallons(&coat, square_feet(350)) - 1.0).abs() < 0.01);
        let odd = plan(r#"{ coating = { covers = "3 lb", from = "1 gal" } }"#);
        assert!((gallons(&Coat::of(&odd, &Key::literal("p")), square_feet(350)) - 1.0).abs() < 0.01);
    }

    #[test]
    fn a_gallon_a_mil_thick_covers_1604_square_feet() {
        // definition of the US gallon, 231 cubic inches: 1604.17 sq ft at 0.001 in
        let coat = Coat { wet_film: Dim::rule(Length::from_nm(25_400), "a test"), dry_film: Dim::zero() };
        assert!(
            (gallons(&coat, Area::from_square_metres_f64(1_604.166_667 * 0.092_903_04)) - 1.0).abs() < 1e-6
        );
    }
}
