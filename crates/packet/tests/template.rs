//! The template on invented pages: sound files, one face, sizes that can be found again, page numbers.

mod judges;
mod sample;

use dryfit_packet::{Paper, print};
use judges::Judged;

#[test]
fn prints_every_kind_of_page_on_both_papers() {
    for (paper, size) in [(Paper::Letter, [612.0, 792.0]), (Paper::A4, [595.276, 841.89])] {
        let data = sample::packet(paper, 6);
        let printed = print(&data).expect("sound pages");
        let judged = Judged::new(&format!("sample-{paper:?}"), &printed.pdf);
        judged.is_sound();
        let (pages, page_size) = judged.pages();
        assert_eq!((pages, printed.pages), (data.pages.len(), data.pages.len()));
        assert!(
            (page_size[0] - size[0]).abs() < 0.01 && (page_size[1] - size[1]).abs() < 0.01,
            "{page_size:?}"
        );
        let mut fonts = judged.fonts();
        fonts.sort();
        assert_eq!(fonts, ["IBMPlexSans-Bold", "IBMPlexSans-Regular", "IBMPlexSans-SemiBold"]);
    }
}

#[test]
fn sizes_are_found_as_they_are_typed() {
    let printed = print(&sample::packet(Paper::Letter, 6)).expect("sound pages");
    let judged = Judged::new("sample-sizes", &printed.pdf);
    for (page, size) in sample::SIZES {
        let text = judged.text(page);
        assert!(text.contains(size), "`{size}` on page {page}:\n{text}");
    }
}

#[test]
fn pages_are_referred_to_by_number() {
    let printed = print(&sample::packet(Paper::Letter, 6)).expect("sound pages");
    let judged = Judged::new("sample-references", &printed.pdf);
    let cover = judged.text(1);
    for words in ["b1 pots", "p 4, 5", "p 3", "to buy, p 10", "1 of 11", "GATE 1", "HELD BACK"] {
        assert!(cover.contains(words), "`{words}` on the cover:\n{cover}");
    }
}

#[test]
fn a_long_table_runs_on_with_its_head() {
    let data = sample::packet(Paper::Letter, 40);
    let printed = print(&data).expect("sound pages");
    assert_eq!(printed.pages, data.pages.len() + 1);
    let judged = Judged::new("sample-long", &printed.pdf);
    let second = judged.text(10);
    assert!(second.contains("along the grain") && second.contains("b39 back"), "{second}");
    // what comes after the table is referred to by its number after the break
    assert!(judged.text(1).contains("to buy, p 11"));
}

#[test]
fn equal_pages_give_equal_bytes() {
    let data = sample::packet(Paper::A4, 6);
    assert_eq!(print(&data).expect("sound pages").pdf, print(&data).expect("sound pages").pdf);
}

#[test]
fn a_date_is_printed_as_it_is_given() {
    let mut data = sample::packet(Paper::Letter, 6);
    data.date = Some("3/12/2026".into());
    let printed = print(&data).expect("sound pages");
    assert!(Judged::new("sample-date", &printed.pdf).text(4).contains("release 1 · 3/12/2026"));
}

#[test]
fn a_reference_to_no_page_prints_nothing() {
    let mut data = sample::packet(Paper::Letter, 6);
    if let dryfit_packet::Body::Cover(cover) = &mut data.pages[0].body {
        cover.today[0].pages = vec!["unit/none".into()];
    }
    assert!(print(&data).is_ok());
}

#[test]
fn names_in_other_scripts_do_not_stop_the_packet() {
    let mut data = sample::packet(Paper::Letter, 6);
    data.project = "木の部屋 🌱 \u{200b}\u{202e}сад".into();
    data.pages[2] = dryfit_packet::Page::new("wall/BC", " ", "", data.pages[2].body.clone());
    let printed = print(&data).expect("names do not matter");
    let text = Judged::new("sample-scripts", &printed.pdf).text(3);
    assert!(text.contains("wall/BC") && text.contains("???? ?"), "{text}");
}
