//! The page a person reads, lengths as they are typed, and the command line's own words.

use super::program::{answer, run, tests};

const SHORT: &str = "cases/jobs/01a-short-by-300";

#[test]
fn the_page_speaks_the_verdict_first_and_the_cautions_last() {
    let page = run(&tests(SHORT), &["check", "job.ron"]);
    assert_eq!((page.exit, page.err.as_str()), (1, ""));
    let lines: Vec<&str> = page.out.lines().collect();
    assert!(lines[0].contains("DOES NOT FIT") && lines[0].contains("300"), "{}", lines[0]);
    assert!(
        lines[1].starts_with("Binds: ") && lines[1].contains("500") && lines[1].contains("200"),
        "{}",
        lines[1]
    );
    let place = |word: &str| page.out.find(word).unwrap_or_else(|| panic!("no {word:?} in\n{}", page.out));
    let order = ["DOES NOT FIT", "Binds", "WILL NOT WORK", "FITS, BY RULE", "ALWAYS"].map(place);
    assert!(order.is_sorted(), "{order:?}");
    for caution in
        ["Planning aid only", "laser beam", "not a calibration", "Chock the wheels", "High-voltage", "exits"]
    {
        assert!(page.out[order[4]..].contains(caution), "{caution}");
    }
    assert!(!page.out.to_lowercase().contains("calibrated"));
}

/// The seven answers a job can end in, and their exit codes.
#[test]
fn exit_codes() {
    for (job, exit) in [
        ("cases/jobs/08b-tall-van-yes", 0),
        ("cases/jobs/01a-short-by-300", 1),
        ("cases/jobs/01b-door-open", 1),
        ("cases/jobs/03-floor-falls-to-drain", 1),
    ] {
        assert_eq!(run(&tests(job), &["check", "job.ron"]).exit, exit, "{job}");
        assert_eq!(run(&tests(job), &["check", "job.ron", "--json"]).exit, exit, "{job}");
    }
    for (args, exit) in [
        (&["explain", "headroom"][..], 0),
        (&["explain"], 0),
        (&["explain", "head-room"], 2),
        (&["--help"], 0),
        (&["--version"], 0),
        (&["check"], 2),
        (&["check", "job.ron", "--jsn"], 2),
        (&["calibrate", "job.ron"], 2),
        (&["check", "none.ron"], 2),
    ] {
        let ran = run(&tests(SHORT), args);
        assert_eq!(ran.exit, exit, "{args:?}\n{}", ran.err);
        assert_eq!(
            ran.err.is_empty(),
            exit == 0,
            "{args:?}: only trouble is told on standard error\n{}",
            ran.err
        );
    }
}

/// Scenario 10: typed feet and inches are kept exactly, printed with their rounding error, and refused when they can be
/// read two ways. 24 ft 7.5 in = 295.5 in = 7505.7 mm; 14 ft 0.75 in = 168.75 in = 4286.25 mm, not 14.75 ft.
/// 2125 mm = 83.6614 in: 6 ft 11 21/32 in = 83.65625 in = 2124.87 mm; 6 ft 11 11/16 in = 83.6875 in = 2125.66 mm.
#[test]
fn typed_lengths() {
    let typed = |text: &str| run(&tests(""), &["units", text, "--json"]);
    let read = |text: &str| {
        let ran = typed(text);
        assert_eq!(ran.exit, 0, "{text}: {}", ran.err);
        serde_json::from_str::<serde_json::Value>(&ran.out).expect("JSON")[0].clone()
    };
    for (text, mm) in [
        ("24' 7-1/2\"", 7505.7),
        ("14' 3/4\"", 4286.25),
        ("11ft 6-7/8in", 3527.425),
        ("3 m", 3000.0),
        ("212.5 cm", 2125.0),
        ("83.66 in", 2124.964),
    ] {
        assert_eq!(read(text)["mm"], mm, "{text}");
    }
    let printed = read("2125");
    let inches: Vec<(&str, f64)> = printed["feet_inches"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|p| (p["text"].as_str().expect("a text"), p["error_mm"].as_f64().expect("a number")))
        .collect();
    for (text, error) in [("6' 11-21/32\"", -0.13), ("6' 11-11/16\"", 0.66)] {
        let found = inches.iter().find(|(t, _)| *t == text).unwrap_or_else(|| panic!("{text} in {inches:?}"));
        assert!((found.1 - error).abs() < 0.005, "{text}: {}", found.1);
    }
    for doubtful in ["24.7.5", "24' 7.5' 2\"", "", "two metres"] {
        let ran = run(&tests(""), &["units", doubtful]);
        assert_eq!(ran.exit, 2, "{doubtful:?}: {}", ran.out);
        assert_eq!(ran.out, "");
        assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    }
    assert!(run(&tests(""), &["units", "24.7.5"]).err.contains("24' 7"), "a hint how to write it");
}

/// The same job gives the same bytes, run after run.
#[test]
fn the_same_input_gives_the_same_bytes() {
    for job in ["cases/jobs/06a-neighbour-lanes", "cases/jobs/09-one-car-three-jobs"] {
        for form in [&["check", "job.ron"][..], &["check", "job.ron", "--json"]] {
            let first = run(&tests(job), form).out;
            assert!(!first.is_empty());
            assert_eq!(run(&tests(job), form).out, first, "{job} {form:?}");
        }
    }
}

/// The tyres' room on the runways is asked for, the vehicle's way off the lift's middle at x 3400 is limited to 20. At x 3700 the
/// outer faces of the right tyres are at 3700 + 797.5 + 112.5 = 4610, the runway ends at 4490.
#[test]
fn a_lift_in_words() {
    let page = run(&tests("../demo/jobs"), &["check", "crossover-alignment-lift.ron"]).out;
    assert!(!page.contains("allows 0.0"), "{page}");
    let off = std::fs::read_to_string(tests("../demo/jobs/crossover-alignment-lift.ron")).expect("a job");
    let folder = tempfile::tempdir().expect("a folder");
    let root = tests("..").canonicalize().expect("the project").display().to_string();
    let named = off.replace("\"../../", &format!("\"{root}/")).replace("\"../", &format!("\"{root}/demo/"));
    for (x, wanted) in
        [("3425", "(allows 20.0 mm, has 25.0 mm)"), ("3700", "The tyres reach 120 mm past the runways")]
    {
        let path = folder.path().join("job.ron");
        std::fs::write(&path, named.replace("x: 3405", &format!("x: {x}"))).expect("a file");
        let ran = run(folder.path(), &["check", "job.ron"]);
        assert!(ran.out.contains(wanted) && !ran.out.contains("allows 0.0"), "{x}: {}{}", ran.out, ran.err);
    }
}

/// `site` ends and speaks as `check` does at its best place: what it rests on is printed, and its exit is that of the check there.
#[test]
fn a_search_answers_as_the_check_at_its_best_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let root = tests("..").canonicalize().expect("the project").display().to_string();
    let place = |text: &str, pose: &str| {
        let from = text.find("pose: ").expect("a pose");
        let to = from + text[from..].find("),").expect("its end") + 2;
        format!("{}pose: {pose},{}", &text[..from], &text[to..])
    };
    let mut verdicts = Vec::new();
    for job in [
        "hatchback-door-open",
        "estate-front-corners",
        "crossover-rails-lamps",
        "city-car-starter-set",
        "hatchback-short-lane",
    ] {
        let text = std::fs::read_to_string(tests(&format!("../demo/jobs/{job}.ron"))).expect("a job");
        let text =
            text.replace("\"../../", &format!("\"{root}/")).replace("\"../", &format!("\"{root}/demo/"));
        let path = folder.path().join("job.ron");
        std::fs::write(&path, place(&text, "Anywhere")).expect("a file");
        let (site, exit) = answer(folder.path(), &["site", "job.ron", "--json"]);
        let page = run(folder.path(), &["site", "job.ron"]);
        let judged = match site["best"].as_object() {
            Some(best) => {
                let at =
                    format!("At(x: {}, y: {}, heading: {})", best["x_mm"], best["y_mm"], best["heading_deg"]);
                std::fs::write(&path, place(&text, &at)).expect("a file");
                answer(folder.path(), &["check", "job.ron", "--json"])
            }
            None => answer(folder.path(), &["check", "job.ron", "--json"]),
        };
        assert_eq!((&site["verdict"], exit), (&judged.0["verdict"], judged.1), "{job}");
        assert_eq!(page.exit, exit, "{job}");
        if site["best"].is_object() {
            assert_eq!(site["conditions"], judged.0["conditions"], "{job}");
            assert_eq!(site["missing"], judged.0["missing"], "{job}");
            for line in site["conditions"].as_array().into_iter().chain(site["missing"].as_array()).flatten()
            {
                let line = line.as_str().expect("a text").to_lowercase();
                assert!(page.out.to_lowercase().contains(&line), "{job}: {line} in\n{}", page.out);
            }
        }
        verdicts.push(site["verdict"].as_str().expect("a word").to_owned());
    }
    verdicts.sort();
    verdicts.dedup();
    assert_eq!(verdicts, ["does-not-fit", "fits", "fits-if", "not-known"], "all four are met");
}
