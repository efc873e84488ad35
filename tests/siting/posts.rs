//! A lift of posts: the vehicle stands so that they are between its axles. Worked by hand, and random ones against the rule.

use crate::told;
use baywright::geometry::P2;
use baywright::layout::Stance;
use baywright::siting::Site;

use crate::bays::{Dice, Parts};
use crate::lift::{POSTS, area, at, least, lifted, near, of_lift, rule, slack};

#[test]
fn a_lift_without_runways_holds_the_middle_line_and_its_posts_between_the_axles() {
    // posts to 1150 and from 4850: the body's 900 and 600 each side leave x 2650..3350 beside them; within 40 of x 3000
    // that is a strip of 80. Their middles at y 5000 lie 340 or more behind the front axle and before the rear one:
    // y from 5340 to 5000 + 2700 - 340 = 7360
    let found = at(&lifted(14_000.0, &format!("{POSTS}, tolerance: 40"), ""), 0.0);
    assert!(near(area(&found), 80.0 * 2020.0, 1.0), "{}", area(&found));
    assert!(near(slack(&found), 40.0, 0.01));
    // backed in, the front axle is behind: y from 5000 - 2360 to 5000 - 340
    let backed = at(&lifted(14_000.0, &format!("{POSTS}, tolerance: 40"), ""), 180.0);
    assert!(near(area(&backed), 80.0 * 2020.0, 1.0));
    assert!(near(backed.best.as_ref().unwrap().place.stance.y, 2640.0 + 40.0, 1.0));
    // askew by 0.5 degrees the rear axle is 2700 sin 0.5 = 23.56 to the right: 80 - 23.56 are left
    let askew = at(&lifted(14_000.0, &format!("{POSTS}, tolerance: 40"), ""), 0.5);
    assert!(near(slack(&askew), (80.0 - 2700.0 * 0.5f64.to_radians().sin()) / 2.0, 0.01));
    // and by 2 degrees 94.2: nowhere
    let askew = at(&lifted(14_000.0, &format!("{POSTS}, tolerance: 40"), ""), 2.0);
    assert!(askew.best.is_none());
    let binds = askew.headings[0].miss.as_ref().unwrap().1.as_ref().unwrap();
    assert_eq!(told(binds), "vehicle and the middle line of ramp");
    // no tolerance: sideways nothing of the lift holds but the room beside its posts, 700
    let parts = lifted(14_000.0, POSTS, "");
    let free = at(&parts, 0.0);
    assert!(near(area(&free), 700.0 * 2020.0, 1.0), "{}", area(&free));
    assert!(near(slack(&free), 350.0, 0.01));
    // two limits for each post
    assert_eq!(of_lift(&Site::new(&parts.bundle()).unwrap().spaces(0.0)[0]).len(), 4);
    // where the swing ends some rule finds no room any more
    let site = Site::new(&parts.bundle()).unwrap();
    let swing = free.best.as_ref().unwrap();
    let (s, left) = (swing.place.stance, swing.swing.left);
    let whole = |heading: f64| {
        let there = baywright::checks::check(&site.layout.at(Stance { heading, ..s }));
        let plan = there.findings.iter().filter(|f| f.rule.rule().policy.plan);
        plan.filter_map(|f| f.margin).fold(f64::INFINITY, f64::min)
    };
    assert!(
        left < 44.0 && whole(left) >= -1e-3 && whole(left + 0.03) < 0.0,
        "{left}: {}",
        whole(left + 0.03)
    );
}

#[test]
fn posts_agree_with_the_rule_at_random_poses() {
    let (mut inside, mut outside) = (0, 0);
    for seed in 0..40 {
        let mut dice = Dice::new(300 + seed);
        let post = |dice: &mut Dice, x: f64| {
            let (x, y) = (x + dice.mm(-100.0, 100.0), dice.mm(9800.0, 10_200.0));
            format!("Box(at: ({x}, {y}), size: (300, 300))")
        };
        let (left, right) = (post(&mut dice, 8000.0), post(&mut dice, 12_000.0));
        let mut parts = lifted(20_000.0, &format!("posts: [{left}, {right}]"), "");
        parts.bay = parts.bay.replace("6000", "20000");
        let heading = [0.0, 180.0][dice.below(2) as usize] + dice.of(-20.0, 20.0);
        let site = Site::new(&parts.bundle()).unwrap();
        let space = &site.spaces(heading)[0];
        let among = of_lift(space);
        for _ in 0..200 {
            let p = P2::new(dice.of(9000.0, 11_000.0), dice.of(7000.0, 13_000.0));
            let (judged, sited) = (least(&rule(&site, p.x, p.y, heading)), space.depth(&among, p));
            assert!((sited - judged).abs() < 1e-6, "seed {seed}: {sited} but {judged}");
            if judged < 0.0 { outside += 1 } else { inside += 1 }
        }
    }
    assert!(inside > 1000 && outside > 1000, "{inside} {outside}");
}

#[test]
fn posts_too_near_to_a_wall_go_with_either_end() {
    // behind: the tail and 600 want y 3600 + 600 = 4200, the rear axle behind posts at y 1340 wants 1340 + 2360 = 3700: the
    // wall behind must be 500 farther off, the lift going with the wall ahead
    let behind = POSTS.replace("5000), size", "1340), size");
    let short = at(&lifted(14_000.0, &behind, ""), 0.0).shortfall.unwrap();
    assert!(near(short.along.unwrap(), 500.0, 0.5), "{short:?}");
    let binds = |words: &str| short.binding.iter().any(|b| told(b) == words);
    assert!(binds("vehicle and wall 0") && binds("the vehicle's axles and ramp post 1"), "{short:?}");
    // 500 farther from the wall behind, and a bay no longer than needed: one place is left
    let both = behind.replace("1340", "1840");
    let fits = at(&lifted(5600.0, &both, ""), 0.0);
    assert!(fits.best.is_some(), "y 4200 only: {:?}", fits.shortfall);
    // ahead: the front axle before the posts at y 5000 wants 5340, the nose and 600 then reach 6740 of 6640
    let ahead = at(&lifted(6640.0, POSTS, ""), 0.0).shortfall.unwrap();
    assert!(near(ahead.along.unwrap(), 100.0, 0.5), "{ahead:?}");
    assert!(at(&lifted(6740.0, POSTS, ""), 0.0).best.is_some(), "100 longer, and it stands");
    let miss = at(&lifted(14_000.0, &behind, ""), 0.0).headings[0].miss.clone().unwrap();
    assert!(near(miss.0.slack, -250.0, 0.01), "{miss:?}");
}

#[test]
fn posts_stay_with_their_lift() {
    // the posts leave 3300 - 2700 for the body's 1800 and 600 each side: 300 are lacking; growing the bay does not widen
    // the lift. On the floor between the same posts the reckoning is as for any two things: growing by 300 is enough.
    let posts = "posts: [Box(at: (1500, 7000), size: (300, 9000)), Box(at: (4500, 7000), size: (300, 9000))], tolerance: 500";
    let parts = lifted(14_000.0, posts, "");
    let short = at(&parts, 0.0).shortfall.unwrap();
    assert_eq!(short.across, None, "{short:?}");
    let floor = Parts { job: "pose: Anywhere, rules: (walk_around: 600)".into(), ..parts };
    let short = at(&floor, 0.0).shortfall.unwrap();
    assert!(near(short.across.unwrap(), 300.0, 0.5), "{short:?}");
}
