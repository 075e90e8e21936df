//! What things are called on paper: names before keys, sizes as the tape reads them.

use dryfit_measure::{Dim, Fineness, Key, Length, Money, Toward, Unit as LengthUnit};
use dryfit_plan::{Form, Plan, Subject, UnitKind};

use crate::words::Words;

/// The names and the manner of writing of one plan.
#[derive(Clone, Copy)]
pub(crate) struct Names<'a> {
    plan: &'a Plan,
}

impl<'a> Names<'a> {
    pub(crate) fn new(plan: &'a Plan) -> Self {
        Names { plan }
    }

    /// A length to the plan's marks, without its unit: `22 13/16`.
    pub(crate) fn length(self, length: Length) -> String {
        dashed(&length.figure(self.plan.fineness, Toward::Nearest).bare().to_string())
    }

    /// A dimension to the plan's marks.
    pub(crate) fn dim(self, dim: &Dim) -> String {
        self.length(dim.length())
    }

    /// A thickness, kerf or other size of goods, to the finest marks of the plan's unit: `23/32`.
    pub(crate) fn stock(self, length: Length) -> String {
        dashed(&length.figure(self.finest(), Toward::Nearest).bare().to_string())
    }

    pub(crate) fn finest(self) -> Fineness {
        match self.plan.fineness.unit() {
            LengthUnit::Inch => Fineness::In64,
            LengthUnit::Millimetre => Fineness::HalfMm,
        }
    }

    /// Along by across: `35 1/4 × 22 1/4`.
    pub(crate) fn size(self, length: Length, width: Length) -> String {
        format!("{} × {}", self.length(length), self.length(width))
    }

    /// The size of what is left over, to the mark below: it is never less than it is told to be.
    pub(crate) fn leftover(self, length: Length, width: Length) -> String {
        let down =
            |length: Length| dashed(&length.figure(self.plan.fineness, Toward::Down).bare().to_string());
        format!("{} × {}", down(length), down(width))
    }

    /// Money with its sign: `$697.40`.
    pub(crate) fn money(self, money: Money) -> String {
        money.with(self.plan.money.currency).to_string()
    }

    /// Money in whole units, with its sign: `$697`.
    pub(crate) fn money_whole(self, money: Money) -> String {
        let whole = Money::from_hundredths((money.hundredths() + 50).div_euclid(100) * 100);
        let figure = self.money(whole);
        figure.strip_suffix(".00").unwrap_or(&figure).to_owned()
    }

    /// Half the plan's mark: what residuals are told to.
    pub(crate) fn half_mark(self) -> Fineness {
        match self.plan.fineness {
            Fineness::In16 => Fineness::In32,
            Fineness::In32 | Fineness::In64 => Fineness::In64,
            Fineness::Mm1 | Fineness::HalfMm => Fineness::HalfMm,
        }
    }

    /// A line of reasons as it stands on paper: the unit is in the footer, names stand for keys and addresses,
    /// minus and times are the face's own.
    pub(crate) fn tidy(self, line: &str) -> String {
        let unit = self.plan.fineness.unit().symbol();
        let mut text = String::with_capacity(line.len());
        for (i, word) in line.replace('`', "").split(' ').enumerate() {
            let after = word.strip_prefix(unit).filter(|end| end.chars().all(|c| ",;.:)".contains(c)));
            // "in" is the unit behind a number only; elsewhere it is a word
            if let (Some(end), true) = (after, text.ends_with(|c: char| c.is_ascii_digit())) {
                text.push_str(end);
                continue;
            }
            if i > 0 {
                text.push(' ');
            }
            match word {
                "-" => text.push('−'),
                "x" => text.push('×'),
                _ if word.starts_with('/') => text.push_str(&place(word)),
                _ => text.push_str(&self.wall_named(word).unwrap_or_else(|| word.to_owned())),
            }
        }
        text
    }

    fn wall_named(self, word: &str) -> Option<String> {
        self.plan.walls.keys().find(|wall| wall.as_str() == word).map(|wall| self.wall(wall))
    }

    /// A unit's key, or another thing's name: what stands in a list.
    pub(crate) fn short(self, key: &Key) -> String {
        if self.plan.units.contains_key(key) { key.to_string() } else { self.subject(key).text() }
    }

    /// The unit of every number on the paper.
    pub(crate) fn unit_of_length(self) -> &'static str {
        match self.plan.fineness.unit() {
            LengthUnit::Inch => "inches",
            LengthUnit::Millimetre => "millimetres",
        }
    }

    /// What stands behind a unit's key: its name, else what it is.
    pub(crate) fn what_unit(self, key: &Key) -> String {
        let Some(unit) = self.plan.units.get(key) else { return String::new() };
        unit.name.clone().unwrap_or_else(|| kind(unit.kind).to_owned())
    }

    /// `b1 pots`, the key bold.
    pub(crate) fn unit(self, key: &Key) -> Words {
        Words::bold(key.to_string()).plain(format!(" {}", self.what_unit(key)))
    }

    /// "garden wall", else "wall B–C".
    pub(crate) fn wall(self, key: &Key) -> String {
        match self.plan.walls.get(key) {
            Some(wall) => wall.name.clone().unwrap_or_else(|| format!("wall {}–{}", wall.from, wall.to)),
            None => format!("wall {key}"),
        }
    }

    /// "birch ply 23/32", "soft maple board 3/4 × 5 1/2": goods as measured.
    pub(crate) fn good(self, key: &Key) -> String {
        let Some(good) = self.plan.goods.get(key) else { return key.to_string() };
        match &good.form {
            Form::Sheet(sheet) => format!("{} {}", good.name, self.stock(sheet.thickness.length)),
            Form::Board(board) => {
                let (thick, wide) = (self.stock(board.thickness.length), self.stock(board.width.length));
                format!("{} {thick} × {wide}", good.name)
            }
            _ => good.name.clone(),
        }
    }

    /// Its name and thickness only: "soft maple board 3/4".
    pub(crate) fn good_thin(self, key: &Key) -> String {
        match self.plan.goods.get(key).map(|good| (&good.name, &good.form)) {
            Some((name, Form::Board(board))) => format!("{name} {}", self.stock(board.thickness.length)),
            _ => self.good(key),
        }
    }

    /// The same with its size as sold: "birch ply 23/32, 48 × 96".
    pub(crate) fn good_as_sold(self, key: &Key) -> String {
        let named = self.good(key);
        match self.plan.goods.get(key).map(|good| &good.form) {
            Some(Form::Sheet(sheet)) => {
                format!("{named}, {} × {}", self.stock(sheet.width.length), self.stock(sheet.length.length))
            }
            Some(Form::Board(board)) => format!("{named} × {}", self.stock(board.length.length)),
            _ => named,
        }
    }

    /// Whatever a key stands for, in words.
    pub(crate) fn subject(self, key: &Key) -> Words {
        let plan = self.plan;
        if plan.units.contains_key(key) {
            self.unit(key)
        } else if plan.walls.contains_key(key) {
            self.wall(key).into()
        } else if plan.goods.contains_key(key) {
            self.good(key).into()
        } else if let Some(top) = plan.tops.get(key) {
            top.name.clone().unwrap_or_else(|| "worktop".to_owned()).into()
        } else if let Some(opening) = plan.openings.get(key) {
            opening.name.clone().into()
        } else if let Some(run) = plan.runs.get(key) {
            let name = run.name.clone();
            name.unwrap_or_else(|| format!("{key} run, {}", self.wall(&run.along))).into()
        } else if let Some(reading) = plan.readings.get(key) {
            format!("reading of {}", self.reading(&reading.of, None)).into()
        } else if let Some(recipe) = plan.recipes.get(key) {
            recipe.name.clone().into()
        } else {
            key.to_string().into()
        }
    }

    /// A reading in the table beside the plan of the room, where corners have their letters: "B–C, up 40".
    pub(crate) fn between(self, of: &Subject, height: Option<Length>) -> String {
        let up = height.map(|height| format!(", up {}", self.length(height))).unwrap_or_default();
        match of {
            Subject::Span { from, to } | Subject::Diagonal { from, to } => format!("{from}–{to}{up}"),
            Subject::Lean { wall } => match self.plan.walls.get(wall) {
                Some(line) => format!("{}–{} leans{up}", line.from, line.to),
                None => self.reading(of, height),
            },
            Subject::Floor { .. } | Subject::Ceiling { .. } => self.reading(of, height),
        }
    }

    /// What a reading is of: "garden wall, up 40".
    pub(crate) fn reading(self, of: &Subject, height: Option<Length>) -> String {
        let up = height.map(|height| format!(", up {}", self.length(height))).unwrap_or_default();
        match of {
            Subject::Span { from, to } => format!("{}{up}", self.wall_between(from, to)),
            Subject::Diagonal { from, to } => format!("corners {from}–{to}{up}"),
            Subject::Lean { wall } => format!("{} leans{up}", self.wall(wall)),
            Subject::Floor { at } => {
                format!("floor, {}, {} along", self.wall(&at.wall), self.length(at.along.length))
            }
            Subject::Ceiling { at } => {
                format!("ceiling, {}, {} along", self.wall(&at.wall), self.length(at.along.length))
            }
        }
    }

    fn wall_between(self, a: &Key, b: &Key) -> String {
        let joins = |wall: &dryfit_plan::Wall| {
            (wall.from == *a && wall.to == *b) || (wall.from == *b && wall.to == *a)
        };
        match self.plan.walls.iter().find(|(_, wall)| joins(wall)) {
            Some((key, _)) => self.wall(key),
            None => format!("corner {a} to {b}"),
        }
    }
}

/// An address in the plan in words: `/units/b1/width` is "b1 width".
fn place(pointer: &str) -> String {
    let segments: Vec<&str> = pointer.split('/').skip(2).collect();
    if segments.is_empty() { pointer.to_owned() } else { segments.join(" ").replace('-', " ") }
}

/// A minus that is as wide as a plus, as the face has it.
fn dashed(figure: &str) -> String {
    figure.replace('-', "−")
}

/// What a unit is, in a word.
pub fn kind(kind: UnitKind) -> &'static str {
    match kind {
        UnitKind::Base => "base",
        UnitKind::Sink => "sink base",
        UnitKind::Wall => "wall unit",
        UnitKind::Tall => "tall unit",
        UnitKind::Bench => "bench",
        UnitKind::Locker => "locker",
        UnitKind::Drying => "drying cupboard",
        UnitKind::HookRail => "hook rail",
        UnitKind::FloatingShelf => "floating shelf",
        UnitKind::Appliance => "appliance",
        UnitKind::Filler => "filler",
        UnitKind::EndPanel => "end panel",
        UnitKind::Gap => "gap",
    }
}

/// The first letter a capital: names at the head of a page.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// "1 board", "3 boards".
pub(crate) fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_reasons_lose_their_unit_behind_numbers_only() {
        let plan =
            Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
        let names = Names::new(&plan);
        let told = names.tidy("inside width 22 9/16 in = unit width 24 in - 2 x side 23/32 in, set in `b1`");
        assert_eq!(told, "inside width 22 9/16 = unit width 24 − 2 × side 23/32, set in b1");
        assert_eq!(
            names.tidy("BC right edge 136 in: taped at /readings/r4"),
            "garden wall right edge 136: taped at r4"
        );
        assert_eq!(names.tidy(""), "");
    }

    #[test]
    fn goods_are_named_as_measured() {
        let plan =
            Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
        let names = Names::new(&plan);
        let key = Key::literal;
        assert_eq!(names.good(&key("ply-18")), "birch ply 23/32");
        assert_eq!(names.good_as_sold(&key("ply-18")), "birch ply 23/32, 48 × 96");
        assert_eq!(names.good_as_sold(&key("maple-6")), "soft maple board 3/4 × 5 1/2 × 96");
        assert_eq!(names.wall(&key("BC")), "garden wall");
        assert_eq!(names.subject(&key("b1")).text(), "b1 pots");
    }
}
