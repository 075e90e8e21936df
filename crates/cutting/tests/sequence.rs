//! The numbered cuts of a small sheet, worked out by hand.

use dryfit_cutting::{
    Budget, CutKind, Edge, Freed, LengthJob, Purpose, SheetJob, SheetLayout, bar_sequences, cut_sequence,
    solve_lengths, solve_sheets,
};

/// A sheet of 110 x 210 with a trim of 5 and a kerf of 2: two strips 40 wide, one of two parts 90 long, the other of
/// one part and a rest; then a rest along the whole sheet.
const JOB: &str = r#"{"kerf":2,"trim":5,"sheets":[{"id":"S","w":110,"h":210,"price":1,"grain":"h"}],
  "parts":[{"id":"a","w":40,"h":90,"qty":3},{"id":"pair","w":40,"h":62,"qty":1,"members":[{"id":"up","length":40},{"id":"low","length":20}]}]}"#;

const LAYOUT: &str = r#"{"sheets":[{"sheet_id":"S","placements":[
  {"part_id":"a","x":5,"y":5,"w":40,"h":90},{"part_id":"a","x":5,"y":97,"w":40,"h":90},
  {"part_id":"a","x":47,"y":5,"w":40,"h":90},{"part_id":"pair","x":47,"y":97,"w":40,"h":62}],
  "cut":{"x":5,"y":5,"w":100,"h":200,"cut":"x","pieces":[
    {"x":5,"y":5,"w":40,"h":200,"cut":"y","pieces":[
      {"x":5,"y":5,"w":40,"h":90,"part":"a"},{"x":5,"y":97,"w":40,"h":90,"part":"a"},{"x":5,"y":189,"w":40,"h":16,"waste":true}]},
    {"x":47,"y":5,"w":40,"h":200,"cut":"y","pieces":[
      {"x":47,"y":5,"w":40,"h":90,"part":"a"},{"x":47,"y":97,"w":40,"h":62,"part":"pair"},{"x":47,"y":161,"w":40,"h":44,"waste":true}]},
    {"x":89,"y":5,"w":16,"h":200,"waste":true}]}}]}"#;

#[test]
fn a_sheet_by_hand() {
    let job = SheetJob::read(JOB).expect("a good job");
    let layout = SheetLayout::read(LAYOUT).expect("a good layout");
    assert_eq!(dryfit_cutting::verify_sheets(&job, &layout), []);
    let q = cut_sequence(&job, &layout.sheets[0], 20).expect("it has cuts");
    let told: Vec<String> = q
        .cuts
        .iter()
        .map(|c| {
            format!("{} {:?} {:?} {} from {:?} on {}", c.number, c.purpose, c.kind, c.setting, c.from, c.on)
        })
        .collect();
    assert_eq!(
        told,
        [
            "1 Trim Rip 105 from Right on sheet",
            "2 Size Rip 40 from Left on sheet",
            "3 Size Rip 40 from Left on sheet",
            "4 Trim Cross 205 from Top on A",
            "5 Trim Cross 205 from Top on B",
            "6 Size Cross 90 from Bottom on A",
            "7 Size Cross 90 from Bottom on A",
            "8 Size Cross 90 from Bottom on B",
            "9 Size Cross 62 from Bottom on B",
            "10 Divide Cross 40 from Bottom on pair",
        ]
    );
    assert_eq!(q.cuts[0].takes, Some(5));
    assert_eq!(q.cuts[0].line, [5, 0, 5, 210]);
    assert_eq!(q.cuts[1].line, [45, 0, 45, 210]);
    // The last rip frees the rest with its factory edges: 110 - 89 by 210.
    let rest = &q.offcuts[0];
    assert_eq!((rest.name.as_str(), rest.x, rest.y, rest.w, rest.h, rest.keep), ("O1", 89, 0, 21, 210, true));
    assert_eq!(q.cuts[2].frees[1], Freed::Offcut { name: "O1".into() });
    assert_eq!(q.cuts[6].frees[1], Freed::Offcut { name: "O2".into() });
    let rows: Vec<_> = q.settings.iter().map(|s| (s.setting, s.kind, s.cuts.len())).collect();
    assert_eq!(
        rows,
        [
            (Some(105), CutKind::Rip, 1),
            (Some(40), CutKind::Rip, 2),
            (Some(205), CutKind::Cross, 2),
            (Some(90), CutKind::Cross, 3),
            (Some(62), CutKind::Cross, 1),
            (Some(40), CutKind::Cross, 1),
        ]
    );
    assert_eq!((q.cuts[3].purpose, q.cuts[3].from), (Purpose::Trim, Edge::Top));
    let members = [("pair", "up"), ("pair", "low")]
        .map(|(part, member)| Freed::Member { part: part.into(), member: member.into() });
    assert_eq!(q.cuts[9].frees, members);
}

#[test]
fn a_part_as_large_as_the_sheet_needs_no_cut() {
    let job = r#"{"kerf":2,"sheets":[{"id":"S","w":40,"h":90,"price":1}],"parts":[{"id":"a","w":40,"h":90,"qty":1}]}"#;
    let job = SheetJob::read(job).expect("a good job");
    let a = solve_sheets(&job, Budget { steps: 0, seed: 0 });
    assert_eq!(cut_sequence(&job, &a.layout.sheets[0], 20).expect("it has a tree").cuts, []);
    assert!(a.proven);
}

#[test]
fn bars_by_hand() {
    let job = r#"{"kerf":2,"end_trim":3,"stocks":[{"id":"S","length":100,"price":1}],
      "parts":[{"id":"a","length":50,"qty":1},{"id":"b","length":20,"qty":1}]}"#;
    let job = LengthJob::read(job).expect("a good job");
    let a = solve_lengths(&job, Budget { steps: 5, seed: 0 });
    let (bars, stops) = bar_sequences(&job, &a.layout, 10);
    let marks: Vec<_> = bars[0].cuts.iter().map(|c| (c.number, c.part.as_deref(), c.stop, c.mark)).collect();
    // Trim to 3; a ends at 53; kerf; b ends at 75; kerf; 23 are left with the factory end.
    assert_eq!(marks, [(1, None, 3, 3), (2, Some("a"), 50, 53), (3, Some("b"), 20, 75)]);
    assert_eq!((bars[0].offcut, bars[0].offcut_name.as_deref()), (23, Some("O1")));
    assert_eq!(stops.iter().map(|s| s.stop).collect::<Vec<_>>(), [50, 20]);
}

/// The same seed and steps give the same bytes; another seed may not, but is as valid.
#[test]
fn same_seed_same_bytes() {
    let parts: Vec<String> = (0..40)
        .map(|i| {
            format!(
                r#"{{"id":"p{i}","w":{},"h":{},"qty":1,"can_rotate":true}}"#,
                10 + i * 7 % 37,
                12 + i * 11 % 41
            )
        })
        .collect();
    let job = format!(
        r#"{{"kerf":1,"sheets":[{{"id":"S","w":100,"h":120,"price":1}}],"parts":[{}]}}"#,
        parts.join(",")
    );
    let job = SheetJob::read(&job).expect("a good job");
    let json = |seed| solve_sheets(&job, Budget { steps: 12_000, seed }).layout.to_json();
    assert_eq!(json(3), json(3));
    // Paid in one sum or by the step, it comes to the same.
    let mut search = dryfit_cutting::SheetSearch::new(&job, 3);
    for _ in 0..120 {
        search.run(100);
    }
    assert_eq!(search.answer().layout.to_json(), json(3));
}
