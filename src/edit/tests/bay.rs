//! Many changes of a bay at random, each a change of its text.

use super::Path;
use crate::edit::bay::{BayThing, PutDown, corner_added, put_down, several};
use crate::edit::{Document, Edit, FileValue, Step};
use crate::files::{open_job, read_text};
use crate::geometry::{P2, V2};
use crate::model::Bay;

/// Numbers from a seed (the generator of Vigna's splitmix64, from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % n as u64) as usize
    }

    fn mm(&mut self, reach: usize) -> f64 {
        self.below(2 * reach + 1) as f64 - reach as f64
    }
}

fn things(bay: &Bay) -> Vec<BayThing> {
    several::shaped(bay)
        .chain((0..bay.doorways.len()).map(BayThing::Doorway))
        .chain((0..bay.floor_lines.len()).map(BayThing::FloorLine))
        .chain((0..bay.points.0.len()).map(BayThing::Point))
        .chain((0..bay.installed.len()).map(BayThing::Installed))
        .chain((0..bay.floor.points.len()).map(BayThing::Corner))
        .collect()
}

fn text_of(document: &Document, bay: &Path) -> String {
    let key = crate::files::plain_path(bay);
    document.texts().get(&key).map(|s| s.text.clone()).unwrap_or_default()
}

/// What a person wrote beside the figures: notes, and the lines of what is not touched here.
fn notes(text: &str) -> Vec<&str> {
    text.lines().filter(|l| l.trim_start().starts_with("//")).collect()
}

#[test]
fn many_changes_and_as_many_undone_give_the_same_bytes() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let bay_file = root.join("bays/lift-2.ron");
    let opened = open_job(&root.join("demo/jobs/fennel-van-radar.ron")).unwrap();
    let mut document = Document::opened(opened);
    let before = std::fs::read_to_string(&bay_file).unwrap();
    let mut dice = Dice(11);
    let (mut made, mut refused) = (0, 0);
    for _ in 0..400 {
        let bay = document.bundle().bay.clone();
        let all = things(&bay);
        let thing = all[dice.below(all.len())];
        let some: Vec<BayThing> = (0..1 + dice.below(3)).map(|_| all[dice.below(all.len())]).collect();
        let wanted = match dice.below(10) {
            6 => several::mirrored(&bay, &some, dice.below(2) == 0),
            7 => several::aligned(&bay, &some, several::Align::ALL[dice.below(6)]),
            8 => several::put_in(&bay, &several::copied(&bay, &some).0, V2::new(dice.mm(500), 0.0))
                .map(|p| p.0),
            9 => several::moved(&bay, &some, V2::new(dice.mm(300), dice.mm(300))),
            0 => thing.taken_away(&bay),
            1 => {
                let what = PutDown::ALL[dice.below(PutDown::ALL.len())];
                let at = P2::new(3500.0 + dice.mm(3000), 6500.0 + dice.mm(6000));
                put_down(&bay, what, at, Some("radar board")).map(|(bay, _)| bay)
            }
            2 => corner_added(&bay, dice.below(bay.floor.points.len())).map(|(bay, _)| bay),
            _ => thing.moved(&bay, V2::new(dice.mm(800), dice.mm(800))),
        };
        let Ok(wanted) = wanted else {
            refused += 1;
            continue;
        };
        let edit = Edit::Rewrite { title: "change".into(), file: FileValue::Bay(wanted.clone().into()) };
        let Ok(after) = document.after(&edit) else {
            // what a bay's file would refuse
            refused += 1;
            continue;
        };
        document.accept(&edit, after, Step::New);
        let text = text_of(&document, &bay_file);
        let read: Bay = read_text(&text, &bay_file).unwrap();
        assert_eq!(read, wanted);
        assert_eq!(*document.bundle().bay, wanted);
        assert_eq!(notes(&text).first(), notes(&before).first(), "notes at the head stay");
        made += 1;
    }
    assert!(made > 250 && refused < 150, "{made} made, {refused} refused");
    while document.undo().is_some() {}
    let text = text_of(&document, &bay_file);
    assert!(text == before || text.is_empty(), "undone, the text is the same to the byte");
    while document.redo().is_some() {}
    assert_ne!(text_of(&document, &bay_file), before);
}
