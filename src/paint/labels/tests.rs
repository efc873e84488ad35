//! Cases of labels.

use proptest::prelude::*;

use super::*;

const PAGE: [f32; 2] = [1200.0, 800.0];

fn wants() -> impl Strategy<Value = Want> {
    let point = || (0.0..1200.0f32, 0.0..800.0f32).prop_map(|(x, y)| [x, y]);
    let boxed =
        || (point(), 2.0..400.0f32, 2.0..300.0f32).prop_map(|(at, w, h)| PageBox::centred(at, [w, h]));
    prop_oneof![
        point().prop_map(Want::Near),
        boxed().prop_map(Want::Beside),
        boxed().prop_map(Want::Within),
        (point(), point()).prop_map(|(a, b)| Want::Along(a, b)),
    ]
}

fn wishes() -> impl Strategy<Value = Vec<Wish>> {
    let wish = (wants(), 6.0..220.0f32, 10.0..34.0f32, any::<u8>(), 0..20u8)
        .prop_map(|(want, w, h, weight, own)| Wish { want, size: [w, h], weight, own });
    proptest::collection::vec(wish, 1..120)
}

proptest! {
    #![proptest_config(crate::seeds::cases(256))]
    #[test]
    fn texts_never_cover_each_other_nor_what_is_forbidden(wishes in wishes(), dots in proptest::collection::vec((0.0..1200.0f32, 0.0..800.0f32), 0..40)) {
        let dots: Vec<PageBox> = dots.into_iter().map(|(x, y)| PageBox::centred([x, y], [8.0, 8.0])).collect();
        let mut field = Field::new(PAGE);
        dots.iter().for_each(|d| field.forbid(d));
        let placed: Vec<PageBox> = field.place(&wishes).into_iter().flatten().map(|p| p.at).collect();
        let page = PageBox::new([0.0; 2], PAGE);
        for (i, a) in placed.iter().enumerate() {
            prop_assert!(a.within(&page), "{a:?} leaves the page");
            for b in placed[..i].iter().chain(&dots) {
                prop_assert!(!a.overlaps(b), "{a:?} covers {b:?}");
            }
        }
    }

    #[test]
    fn texts_never_cover_what_they_name(wish in (wants(), 6.0..220.0f32, 10.0..34.0f32)) {
        let (want, w, h) = wish;
        let wish = Wish { want, size: [w, h], weight: 100, own: 0 };
        if let Some(Some(placed)) = Field::new(PAGE).place(&[wish]).first() {
            match want {
                Want::Near(p) => prop_assert!(!placed.at.holds(p)),
                Want::Beside(b) => prop_assert!(!placed.at.overlaps(&b)),
                Want::Within(b) => prop_assert!(placed.at.within(&b) || !placed.at.overlaps(&b)),
                Want::Along(..) => {}
            }
        }
    }

    #[test]
    fn the_same_wishes_get_the_same_places(wishes in wishes()) {
        prop_assert_eq!(Field::new(PAGE).place(&wishes), Field::new(PAGE).place(&wishes));
    }
}

#[test]
fn a_text_gives_way_to_what_weighs_more() {
    let at = |weight| Wish { want: Want::Near([600.0, 400.0]), size: [80.0, 16.0], weight, own: 0 };
    let placed = Field::new(PAGE).place(&[at(10), at(200)]);
    let alone = Field::new(PAGE).place(&[at(200)]);
    assert_eq!(placed[1], alone[0]);
    assert!(placed[0].is_some() && placed[0] != placed[1]);
}

#[test]
fn what_finds_no_room_is_left_out() {
    let mut field = Field::new(PAGE);
    field.forbid(&PageBox::new([0.0; 2], PAGE));
    let wish = Wish { want: Want::Near([600.0, 400.0]), size: [80.0, 16.0], weight: 255, own: 0 };
    assert_eq!(field.place(&[wish]), [None]);
}

#[test]
fn a_long_line_carries_its_text_and_a_short_one_has_it_beside() {
    let along = |to: f32| Wish {
        want: Want::Along([500.0, 400.0], [to, 400.0]),
        size: [80.0, 16.0],
        weight: 100,
        own: 0,
    };
    let on = Field::new(PAGE).place(&[along(700.0)])[0].unwrap();
    assert_eq!((on.at.centre(), on.leader), ([600.0, 400.0], None));
    let off = Field::new(PAGE).place(&[along(540.0)])[0].unwrap();
    assert!(off.at.min[1] > 400.0 || off.at.max[1] < 400.0);
}

#[test]
fn a_page_of_no_size_or_no_number_is_no_fault() {
    for size in [[0.0, 0.0], [f32::NAN, 100.0], [f32::INFINITY, 1.0]] {
        let mut field = Field::new(size);
        field.burden_line([f32::NAN, 0.0], [5.0, 5.0], 9);
        field.burden(&PageBox::new([f32::NAN; 2], [1.0, 1.0]), 9);
        let wish = Wish { want: Want::Near([1.0, 1.0]), size: [80.0, 16.0], weight: 255, own: 0 };
        assert_eq!(field.place(&[wish]), [None]);
    }
}
