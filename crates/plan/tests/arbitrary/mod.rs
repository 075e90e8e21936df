//! Plans of any content that the types allow, sensible or not.

use std::collections::BTreeMap;

use dryfit_measure::{
    Currency, Fineness, Key, Length, Money, Rate, Stated, StatedAmount, Unit as LengthUnit,
};
use dryfit_plan::*;
use proptest::collection::{btree_map, vec};
use proptest::option;
use proptest::prelude::*;

mod finishes;

use finishes::{bead, field, finish, setting, top, trim};

/// Names with quotes, line ends, marks and letters of all kinds among them.
fn name() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z ]{1,12}", "[\"'\\\\#=\\[\\]{}a\n\t/~\u{bd}\u{e9}]{0,6}", any::<String>()]
}

fn key() -> impl Strategy<Value = Key> {
    "[A-Za-z0-9][A-Za-z0-9_-]{0,5}".prop_map(|text| Key::new(&text).expect("a key by its pattern"))
}

/// Boxed: the strategies of a whole plan, side by side, are more than a test's stack holds.
fn keyed<T: std::fmt::Debug + 'static>(value: impl Strategy<Value = T> + 'static) -> BoxedStrategy<Keyed<T>> {
    btree_map(key(), value.boxed(), 0..4).boxed()
}

fn length() -> impl Strategy<Value = Stated> {
    let inches = (-20_000_i64..20_000).prop_map(|n| Stated::inches(Length::sixty_fourths(n)));
    let millimetres =
        (-5_000_000_i64..5_000_000).prop_map(|um| Stated::millimetres(Length::from_nm(um * 1_000)));
    prop_oneof![inches, millimetres]
}

fn day() -> impl Strategy<Value = Day> {
    (1_900..2_100, 1..=12, 1..=28)
        .prop_map(|(year, month, day)| format!("{year}-{month:02}-{day:02}").parse().expect("a day"))
}

fn figures() -> impl Strategy<Value = Figures> {
    btree_map(name(), length(), 0..3)
}

fn place() -> impl Strategy<Value = Place> {
    let face = prop::sample::select(vec![WallFace::Frame, WallFace::Board, WallFace::Finish]);
    (key(), length(), option::of(length()), option::of(length()), face)
        .prop_map(|(wall, along, up, out, face)| Place { wall, along, up, out, face })
}

fn hand() -> impl Strategy<Value = Hand> {
    prop_oneof![Just(Hand::Left), Just(Hand::Right)]
}

fn instrument() -> impl Strategy<Value = Instrument> {
    use InstrumentKind::{Laser, Level, Plumb, Tape};
    let kind = prop::sample::select(vec![Tape, Laser, Level, Plumb]);
    let class = prop::sample::select(vec![TapeClass::I, TapeClass::II, TapeClass::III]);
    let used_in = vec(prop::sample::select(vec![UsedIn::Survey, UsedIn::Shop]), 0..3);
    (name(), kind, option::of(class), length(), option::of(length()), used_in).prop_map(
        |(name, kind, class, step, body, used_in)| Instrument { name, kind, class, step, body, used_in },
    )
}

fn epoch() -> impl Strategy<Value = Epoch> {
    use RoomState::{AsFound, Closed, OpenedUp, UnitsSet};
    (prop::sample::select(vec![AsFound, OpenedUp, Closed, UnitsSet]), option::of(day()))
        .prop_map(|(state, date)| Epoch { state, date })
}

fn reading() -> impl Strategy<Value = Reading> {
    let of = prop_oneof![
        (key(), key()).prop_map(|(from, to)| Subject::Span { from, to }),
        (key(), key()).prop_map(|(from, to)| Subject::Diagonal { from, to }),
        key().prop_map(|wall| Subject::Lean { wall }),
        place().prop_map(|at| Subject::Floor { at }),
        place().prop_map(|at| Subject::Ceiling { at }),
    ];
    let how = prop::sample::select(vec![Held::Hook, Held::BurntInch, Held::Inside]);
    let doubt = prop::sample::select(vec![Doubt::Plain, Doubt::About, Doubt::Given]);
    let first = (key(), key(), of, option::of(length()), how);
    (first, length(), name(), doubt, option::of(name())).prop_map(
        |((epoch, by, of, height, how), length, text, doubt, set_aside)| Reading {
            epoch,
            by,
            of,
            height,
            how,
            length,
            text,
            doubt,
            set_aside,
        },
    )
}

fn wall() -> impl Strategy<Value = Wall> {
    let framing = (length(), length(), option::of(length())).prop_map(|(studs, first, deep)| Framing {
        studs,
        first,
        deep,
    });
    let layer = (name(), length(), any::<bool>()).prop_map(|(name, thickness, measured)| Layer {
        name,
        thickness,
        measured,
    });
    (key(), key(), option::of(name()), option::of(framing), option::of(any::<bool>()), keyed(layer)).prop_map(
        |(from, to, name, framing, bearing, layers)| Wall { from, to, name, framing, bearing, layers },
    )
}

fn opening() -> impl Strategy<Value = Opening> {
    let swings = prop_oneof![Just(Swing::In), Just(Swing::Out)];
    let leaf = (hand(), swings).prop_map(|(hinge, swings)| Leaf { hinge, swings });
    let sizes = (length(), length(), length(), option::of(length()), option::of(length()));
    (name(), key(), sizes, option::of(leaf)).prop_map(
        |(name, wall, (along, width, head, sill, casing), leaf)| Opening {
            name,
            wall,
            along,
            width,
            head,
            sill,
            casing,
            leaf,
        },
    )
}

fn form() -> impl Strategy<Value = Form> {
    let grain = prop_oneof![Just(Grain::Length), Just(Grain::None)];
    prop_oneof![
        (length(), length(), length(), length(), grain, any::<u32>()).prop_map(
            |(nominal, thickness, length, width, grain, density)| Form::Sheet(SheetForm {
                nominal,
                thickness,
                length,
                width,
                grain,
                density
            })
        ),
        (length(), length(), length(), any::<u32>(), option::of(name())).prop_map(
            |(thickness, width, length, density, species)| Form::Board(BoardForm {
                thickness,
                width,
                length,
                density,
                species
            })
        ),
        (length(), length(), length()).prop_map(|(overlay, cup, cup_in)| Form::Hinge {
            overlay,
            cup,
            cup_in
        }),
        (length(), length(), length(), length(), option::of(length())).prop_map(
            |(length, each_side, off_height, behind, up)| {
                Form::Slide(SlideForm { length, each_side, off_height, behind, up })
            }
        ),
        (length(), length()).prop_map(|(thickness, width)| Form::EdgeBand(EdgeBandForm { thickness, width })),
        (length(), length()).prop_map(|(least, most)| Form::Leg { least, most }),
        (length(), option::of(length())).prop_map(|(projection, centres)| Form::Pull { projection, centres }),
        (amount(), amount(), option::of(length())).prop_map(|(covers, from, dry_film)| Form::Coating {
            covers,
            from,
            dry_film
        }),
        any::<bool>().prop_map(|sanded| Form::Grout { sanded }),
        Just(Form::Mortar {}),
        Just(Form::Tube {}),
        (
            (length(), length(), length()),
            (option::of(length()), option::of(length())),
            (length(), length(), length()),
            (option::of(length()), option::of(length()), option::of(length()))
        )
            .prop_map(
                |((width, height, depth), (handle, feet), (air_side, air_top, air_back), hookups)| {
                    let (cord, hose, drain_hose) = hookups;
                    Form::Appliance(ApplianceForm {
                        width,
                        height,
                        depth,
                        handle,
                        feet,
                        air_side,
                        air_top,
                        air_back,
                        cord,
                        hose,
                        drain_hose,
                    })
                }
            ),
        (length(), length(), length(), length(), length()).prop_map(
            |(width, depth, cutout_width, cutout_depth, bowl)| Form::Sink {
                width,
                depth,
                cutout_width,
                cutout_depth,
                bowl
            }
        ),
        length().prop_map(|length| Form::Fastener { length }),
        rough_in(),
        Just(Form::Supply {}),
        finishes::tile_or_plank(),
    ]
}

fn rough_in() -> impl Strategy<Value = Form> {
    let capacity = any::<u32>();
    prop_oneof![
        (length(), length()).prop_map(|(nominal, outside)| Form::Pipe { nominal, outside }),
        (length(), option::of(length())).prop_map(|(nominal, deducts)| Form::Fitting { nominal, deducts }),
        (length(), length(), length()).prop_map(|(nominal, seal, rise)| Form::Trap { nominal, seal, rise }),
        (any::<u8>(), any::<u8>(), any::<u8>(), length()).prop_map(
            |(gauge, conductors, grounds, outside)| Form::Cable { gauge, conductors, grounds, outside }
        ),
        length().prop_map(|nominal| Form::Duct { nominal }),
        (capacity, any::<bool>(), length(), length(), length(), any::<bool>()).prop_map(
            |(size, metric, width, height, depth, clamps)| {
                let volume =
                    if metric { Capacity::cubic_centimetres(size) } else { Capacity::cubic_inches(size) };
                Form::Box { volume, width, height, depth, clamps }
            }
        ),
        (any::<u8>(), any::<bool>()).prop_map(|(yokes, ground_fault)| Form::Device { yokes, ground_fault }),
        length().prop_map(|thickness| Form::Plate { thickness }),
    ]
}

fn node() -> impl Strategy<Value = Node> {
    prop_oneof![
        place().prop_map(Node::At),
        place().prop_map(Node::Stub),
        place().prop_map(Node::Trap),
        place().prop_map(Node::Standpipe),
        (key(), key()).prop_map(|(service, node)| Node::Joins { service, node }),
        key().prop_map(Node::Box),
    ]
}

fn service() -> impl Strategy<Value = Service> {
    let carries = prop::sample::select(vec![Carries::Drain, Carries::Vent, Carries::Hot, Carries::Cold]);
    let purpose = prop::sample::select(vec![
        BoxPurpose::Receptacle,
        BoxPurpose::Switch,
        BoxPurpose::Light,
        BoxPurpose::Junction,
    ]);
    let way = || (vec(key(), 0..4), keyed(node()));
    let head = || (option::of(name()), key(), option::of(key()), any::<bool>());
    prop_oneof![
        (head(), carries, way(), keyed(key()), vec(key(), 0..3)).prop_map(
            |((name, good, serves, found), carries, (order, nodes), fittings, with)| {
                let plate = with.first().cloned();
                Service::Pipe(PipeRun {
                    name,
                    carries,
                    good,
                    serves,
                    found,
                    order,
                    nodes,
                    fittings,
                    with,
                    plate,
                })
            }
        ),
        (head(), option::of(name()), way()).prop_map(
            |((name, good, plate, found), circuit, (order, nodes))| {
                Service::Cable(CableRun { name, good, circuit, found, plate, order, nodes })
            }
        ),
        (head(), way(), keyed(key())).prop_map(|((name, good, serves, found), (order, nodes), fittings)| {
            Service::Duct(DuctRun { name, good, serves, found, order, nodes, fittings })
        }),
        (
            (option::of(name()), purpose, place(), option::of(key())),
            (vec(key(), 0..3), vec(key(), 0..3), option::of(length())),
            (option::of(key()), option::of(key()), any::<bool>(), any::<bool>())
        )
            .prop_map(
                |(
                    (name, purpose, at, good),
                    (devices, with, proud),
                    (serves, through, ground_fault, found),
                )| {
                    Service::Box(OutletBox {
                        name,
                        purpose,
                        at,
                        good,
                        devices,
                        with,
                        proud,
                        serves,
                        through,
                        ground_fault,
                        found,
                    })
                }
            ),
    ]
}

fn money() -> impl Strategy<Value = Money> {
    (-100_000_i64..10_000_000).prop_map(Money::from_hundredths)
}

fn amount() -> impl Strategy<Value = StatedAmount> {
    let units =
        vec!["in", "ft", "mm", "m", "sq ft", "m2", "fl oz", "qt", "gal", "cu ft", "cu yd", "ml", "l", "oz"];
    let written = (0_u32..1_000_000, 0..1_000_u32, prop::sample::select(units))
        .prop_map(|(whole, part, unit)| format!("{whole}.{part:03} {unit}").parse().expect("an amount"));
    prop_oneof![any::<u32>().prop_map(StatedAmount::pieces), written]
}

fn rate() -> impl Strategy<Value = Rate> {
    (0_u32..100_000).prop_map(|n| format!("{}.{:02} %", n / 100, n % 100).parse().expect("a rate"))
}

fn good() -> impl Strategy<Value = Good> {
    let pack = (amount(), option::of(money()), option::of(day())).prop_map(|(holds, price, asked_on)| Pack {
        holds,
        price,
        asked_on,
    });
    let kept = (option::of(category()), option::of(rate()), option::of(name()), any::<bool>());
    (name(), form(), keyed(pack), kept, option::of(any::<u16>()), option::of(name())).prop_map(
        |(name, form, packs, (category, spare, serves, one_batch), lead_days, look_for)| Good {
            name,
            form,
            packs,
            category,
            spare,
            serves,
            one_batch,
            lead_days,
            look_for,
        },
    )
}

fn roles() -> impl Strategy<Value = BTreeMap<Role, Key>> {
    let role = prop::sample::select(vec![
        Role::Box,
        Role::Back,
        Role::DrawerBox,
        Role::JointScrew,
        Role::Toe,
        Role::Ledger,
        Role::Seat,
        Role::BackNail,
        Role::Glue,
    ]);
    btree_map(role, key(), 0..4)
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let fit = prop_oneof![Just(FrontFit::Overlay), Just(FrontFit::Inset)];
    let build = prop_oneof![Just(Build::FaceFrame), Just(Build::Frameless)];
    let bottom = prop::sample::select(vec![BottomJoint::Dado, BottomJoint::PocketScrew, BottomJoint::Screw]);
    let back = prop::sample::select(vec![BackJoint::Groove, BackJoint::Rabbet, BackJoint::Applied]);
    let joints = (bottom, back).prop_map(|(bottom, back)| Joints { bottom, back });
    let toe = prop_oneof![Just(ToeBuild::Notched), Just(ToeBuild::Loose), Just(ToeBuild::Legs)];
    (name(), build, fit, roles(), joints, toe, roles(), figures()).prop_map(
        |(name, build, fit, roles, joints, toe, edges, figures)| Recipe {
            name,
            build,
            fit,
            roles,
            joints,
            toe,
            edges,
            figures,
        },
    )
}

fn front() -> impl Strategy<Value = Front> {
    let leaf = prop_oneof![
        (hand(), option::of(length())).prop_map(|(hinge, height)| Front::Door { hinge, height }),
        option::of(length()).prop_map(|height| Front::Pair { height }),
        (key(), option::of(length())).prop_map(|(slide, height)| Front::Drawer { slide, height }),
        option::of(length()).prop_map(|height| Front::Fixed { height }),
        option::of(length()).prop_map(|height| Front::Open { height }),
    ];
    leaf.prop_recursive(3, 12, 3, |part| {
        (vec(key(), 0..4), btree_map(key(), part, 0..3))
            .prop_map(|(order, parts)| Front::Down { order, parts })
    })
}

fn height() -> impl Strategy<Value = Height> {
    prop_oneof![
        length().prop_map(Height::Given),
        key().prop_map(Height::Clears),
        length().prop_map(Height::TopAt)
    ]
}

fn unit() -> impl Strategy<Value = Unit> {
    use UnitKind::{
        Appliance, Base, Bench, Drying, EndPanel, Filler, FloatingShelf, Gap, HookRail, Locker, Sink, Tall,
        Wall,
    };
    let kind = prop::sample::select(vec![
        Base,
        Sink,
        Wall,
        Tall,
        Bench,
        Locker,
        Drying,
        HookRail,
        FloatingShelf,
        Appliance,
        Filler,
        EndPanel,
        Gap,
    ]);
    let width = prop_oneof![
        length().prop_map(Width::Given),
        Just(Width::LeftOver),
        (length(), length()).prop_map(|(least, most)| Width::Within { least, most }),
        Just(Width::ClearsCorner),
        Just(Width::Scribe),
    ];
    let first = (kind, option::of(name()), option::of(key()), option::of(key()), width);
    let second = (option::of(height()), option::of(length()), option::of(front()), any::<u8>());
    let inside = (any::<u8>(), any::<bool>());
    (first, second, inside, roles(), figures()).prop_map(
        |(
            (kind, name, recipe, holds, width),
            (height, depth, fronts, shelves),
            (dividers, lid),
            roles,
            figures,
        )| Unit {
            kind,
            name,
            recipe,
            holds,
            width,
            height,
            depth,
            fronts,
            shelves,
            dividers,
            lid,
            roles,
            figures,
        },
    )
}

fn end() -> impl Strategy<Value = End> {
    prop_oneof![
        Just(End::Wall),
        (key(), key()).prop_map(|(with, owner)| End::Corner { with, owner }),
        length().prop_map(|from_corner| End::Free { from_corner }),
        key().prop_map(End::Unit),
        Just(End::Open),
    ]
}

fn run() -> impl Strategy<Value = Run> {
    let level =
        prop_oneof![Just(Level::Floor), length().prop_map(Level::Up), key().prop_map(Level::AboveTop)];
    (option::of(name()), key(), level, vec(key(), 0..5), option::of(height()), end(), end()).prop_map(
        |(name, along, level, order, height, left, right)| Run {
            name,
            along,
            level,
            order,
            height,
            left,
            right,
        },
    )
}

fn lot() -> impl Strategy<Value = Lot> {
    let whence = (option::of(name()), option::of(key()), option::of(name()));
    (key(), amount(), option::of(length()), option::of(length()), whence).prop_map(
        |(good, count, length, width, (stands, receipt, batch))| Lot {
            good,
            count,
            length,
            width,
            stands,
            receipt,
            batch,
        },
    )
}

fn receipt() -> BoxedStrategy<Receipt> {
    let words = (option::of(name()), option::of(category()), option::of(name()), option::of(name()));
    let line = (option::of(key()), option::of(key()), any::<u32>(), money(), words).prop_map(
        |(good, pack, count, money, (text, category, batch, again))| ReceiptLine {
            good,
            pack,
            count,
            money,
            text,
            category,
            batch,
            again,
        },
    );
    let back = (key(), any::<u32>(), day(), option::of(money()), money(), option::of(name()))
        .prop_map(|(line, count, on, credit, tax, reason)| Return { line, count, on, credit, tax, reason });
    let head = (day(), option::of(name()), option::of(name()), option::of(name()));
    (head, keyed(line), money(), option::of(money()), keyed(back))
        .prop_map(|((date, shop, number, photo), lines, tax, total, returns)| Receipt {
            date,
            shop,
            number,
            lines,
            tax,
            total,
            returns,
            photo,
        })
        .boxed()
}

fn category() -> impl Strategy<Value = Category> {
    prop::sample::select(Category::ALL.to_vec())
}

fn shop() -> impl Strategy<Value = Shop> {
    let lengths = (
        option::of(length()),
        option::of(length()),
        option::of(length()),
        option::of(length()),
        option::of(length()),
    );
    (keyed(length()), lengths, option::of(any::<u16>()), option::of(any::<bool>())).prop_map(
        |(kerfs, (factory_trim, straightedge, rip, crosscut, keep_offcuts), lift, helper)| Shop {
            kerfs,
            factory_trim,
            straightedge,
            rip,
            crosscut,
            keep_offcuts,
            lift,
            helper,
        },
    )
}

fn decision() -> impl Strategy<Value = Decision> {
    (name(), vec(key(), 0..3), name(), option::of(length()))
        .prop_map(|(rule, subjects, reason, short_by)| Decision { rule, subjects, reason, short_by })
}

/// Any plan.
fn lasting() -> impl Strategy<Value = Lasting> {
    (0..6_000_u32).prop_map(Lasting::of_minutes)
}

fn clock() -> impl Strategy<Value = OnClock> {
    (0..24_u32, 0..60_u32).prop_map(|(h, m)| format!("{h}:{m:02}").parse().expect("a time of day"))
}

fn week() -> BoxedStrategy<Week> {
    let hours = (0..12_u32, 12..24_u32, 0..60_u32)
        .prop_map(|(from, until, m)| format!("{from}:{m:02}-{until}:{m:02}").parse().expect("hours"));
    vec(vec(hours, 0..3), 7)
        .prop_map(|mut days: Vec<Vec<WorkingHours>>| {
            let mut next = || days.pop().expect("seven days");
            Week {
                monday: next(),
                tuesday: next(),
                wednesday: next(),
                thursday: next(),
                friday: next(),
                saturday: next(),
                sunday: next(),
            }
        })
        .boxed()
}

fn calendar() -> BoxedStrategy<Calendar> {
    let helping =
        (name(), week(), vec(day(), 0..3)).prop_map(|(name, hours, off)| Helping { name, hours, off });
    let delivery =
        (option::of(day()), option::of(day())).prop_map(|(ordered, comes)| Delivery { ordered, comes });
    let days = (option::of(day()), vec(day(), 0..3), option::of(any::<u16>()));
    (days, week(), keyed(helping), keyed(delivery))
        .prop_map(|((start, off, without_sink), hours, helpers, deliveries)| Calendar {
            start,
            hours,
            off,
            helpers,
            deliveries,
            without_sink,
        })
        .boxed()
}

fn work() -> BoxedStrategy<Work> {
    (day(), option::of(clock()), option::of(lasting()), option::of(name()))
        .prop_map(|(done, at, took, note)| Work { done, at, took, note })
        .boxed()
}

fn wish() -> BoxedStrategy<TaskWish> {
    let words = (option::of(name()), option::of(name()), vec(name(), 0..3), vec(name(), 0..3));
    (words, option::of(lasting()), option::of(day()), option::of(any::<bool>()), any::<bool>())
        .prop_map(|((does, hold, after, before), takes, not_before, two_people, left_out)| TaskWish {
            does,
            takes,
            after,
            before,
            not_before,
            hold,
            two_people,
            left_out,
        })
        .boxed()
}

fn by_task<T: std::fmt::Debug + 'static>(value: BoxedStrategy<T>) -> BoxedStrategy<ByTask<T>> {
    btree_map(name(), value, 0..3).boxed()
}

pub fn plan() -> BoxedStrategy<Plan> {
    let fineness = prop::sample::select(vec![
        Fineness::In16,
        Fineness::In32,
        Fineness::In64,
        "1 mm".parse().expect("a fineness"),
        Fineness::HalfMm,
    ]);
    let code = (name(), name()).prop_map(|(family, edition)| Code { family, edition });
    let rate = (0_i64..3_000).prop_map(|n| Rate::percent(rust_decimal::Decimal::new(n, 2)));
    let budget = btree_map(category(), money(), 0..3);
    let kept = option::of(rate.clone());
    let terms = (prop::sample::select(Currency::ALL.to_vec()), option::of(rate), option::of(money()), kept)
        .prop_map(|(currency, tax, hour, contingency)| MoneyTerms { currency, tax, hour, contingency });
    let unit_of_entry = prop_oneof![Just(LengthUnit::Inch), Just(LengthUnit::Millimetre)];
    let head = (name(), unit_of_entry, fineness, option::of(code), terms);
    let sense = prop_oneof![Just(Sense::Clockwise), Just(Sense::CounterClockwise)];
    let room = (vec(key(), 0..5), sense, option::of(length()), option::of(length())).prop_map(
        |(walk, sense, ceiling_about, floor_buildup)| Room { walk, sense, ceiling_about, floor_buildup },
    );
    let survey =
        (keyed(instrument()), keyed(epoch()), room, keyed(wall()), keyed(opening()), keyed(reading()));
    let wishes = (keyed(good()), keyed(recipe()), keyed(unit()), keyed(run()), keyed(top()));
    let surfaces = (keyed(finish()), keyed(trim()), keyed(bead()), keyed(field()), keyed(setting())).boxed();
    (
        head,
        survey,
        wishes,
        (keyed(service()), surfaces),
        (keyed(lot()), budget, keyed(receipt())),
        (shop(), calendar(), by_task(work()), by_task(wish())),
        keyed(decision()),
    )
        .prop_map(
            |(head, survey, wishes, (services, surfaces), (lots, budget, receipts), order, decisions)| {
                let (shop, calendar, work, tasks) = order;
                let (finishes, trims, beads, fields, settings) = surfaces;
                let (name, entry_unit, fineness, code, money) = head;
                let (instruments, epochs, room, walls, openings, readings) = survey;
                let (goods, recipes, units, runs, tops) = wishes;
                Plan {
                    format: FORMAT,
                    name,
                    entry_unit,
                    fineness,
                    code,
                    money,
                    instruments,
                    epochs,
                    room,
                    walls,
                    openings,
                    readings,
                    goods,
                    recipes,
                    units,
                    runs,
                    tops,
                    services,
                    finishes,
                    trims,
                    beads,
                    fields,
                    settings,
                    lots,
                    budget,
                    receipts,
                    shop,
                    calendar,
                    work,
                    tasks,
                    decisions,
                }
            },
        )
        .boxed()
}
