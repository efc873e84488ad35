//! What a question does when its key changes, when its work breaks off, and when nobody waits any more.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, mpsc::Sender};

use crate::app::background::question::*;

/// Work that waits to be told to stop, or for an answer to give; it counts how many run at once.
struct Bench {
    ctx: Context,
    question: Question<u8, u8>,
    runs: Arc<Mutex<(usize, usize)>>,
    begun: Vec<u8>,
}

impl Bench {
    fn new() -> Bench {
        let question = Question::new("test");
        Bench { ctx: Context::default(), question, runs: Arc::default(), begun: Vec::new() }
    }

    /// Asks for work that ends only once it is told to stop.
    fn ask_endless(&mut self, key: u8) {
        self.ask(key, move |progress: &Progress| {
            while !progress.is_stopped() {
                std::thread::yield_now();
            }
            key
        });
    }

    fn ask(&mut self, key: u8, work: impl FnOnce(&Progress) -> u8 + Send + 'static) -> bool {
        let (runs, begun) = (self.runs.clone(), &mut self.begun);
        self.question.ask(&key, &self.ctx, || {
            begun.push(key);
            move |progress: &Progress| {
                let mut now = runs.lock().unwrap();
                *now = (now.0 + 1, now.1.max(now.0 + 1));
                drop(now);
                let answer = work(progress);
                runs.lock().unwrap().0 -= 1;
                answer
            }
        })
    }

    /// Asks until nothing is waited for.
    fn settle(&mut self, key: u8, work: impl FnOnce(&Progress) -> u8 + Clone + Send + 'static) {
        loop {
            self.ask(key, work.clone());
            if !self.question.is_busy() {
                return;
            }
            std::thread::yield_now();
        }
    }
}

fn breaks_off(_: &Progress) -> u8 {
    std::panic::resume_unwind(Box::new(()))
}

#[test]
fn the_latest_wish_wins_and_one_runs_at_most() {
    let mut bench = Bench::new();
    for key in 1..=20 {
        bench.ask_endless(key);
    }
    bench.settle(21, |_| 42);
    assert_eq!(bench.question.last(), Some((&21, &42)));
    assert_eq!(bench.runs.lock().unwrap().1, 1, "more than one ran at once");
    assert!(bench.begun.len() < 21, "those between were not all begun: {:?}", bench.begun);
    assert_eq!((bench.begun.first(), bench.begun.last()), (Some(&1), Some(&21)));
}

#[test]
fn the_answer_before_stays_and_is_known_to_be_stale() {
    let mut bench = Bench::new();
    bench.settle(1, |_| 10);
    assert_eq!(bench.question.current(), Some(&10));
    bench.ask_endless(2);
    assert_eq!(bench.question.current(), None);
    assert_eq!(bench.question.last(), Some((&1, &10)));
    assert_eq!(bench.question.answer_to(&1), Some(&10));
    // the wish before is answered at once, and what was begun about another is stopped
    assert!(bench.ask(1, |_| 11));
    assert_eq!(bench.question.current(), Some(&10));
    bench.settle(1, |_| 11);
    while bench.question.running.is_some() {
        bench.question.collect();
    }
    assert_eq!(bench.question.last(), Some((&1, &10)), "what was told to stop has no answer");
}

#[test]
fn what_breaks_off_is_told_once_and_not_asked_again() {
    let mut bench = Bench::new();
    bench.settle(1, |_| 10);
    bench.settle(2, breaks_off);
    for _ in 0..100 {
        assert!(!bench.ask(2, breaks_off));
    }
    assert_eq!(bench.begun, [1, 2]);
    assert!(bench.question.is_given_up() && bench.question.current().is_none());
    let told = take_broken(&bench.ctx);
    assert_eq!(told, ["A fault of the program ended this work, its answer is missing: test"]);
    assert!(take_broken(&bench.ctx).is_empty());
    bench.settle(3, |_| 30);
    assert_eq!(bench.question.current(), Some(&30));
}

/// More stack than there is memory to address.
#[cfg(target_os = "linux")]
#[test]
fn no_thread_is_told_once_and_not_asked_again() {
    let mut bench = Bench::new();
    bench.question.wish = Some(1);
    bench.question.start(1, &bench.ctx, Builder::new().stack_size(1 << 60), |_| 10);
    assert!(bench.question.is_given_up() && !bench.question.is_busy());
    let told = take_broken(&bench.ctx);
    assert_eq!(told, ["The system gives no thread for this work, its answer is missing: test"]);
    assert!(!bench.ask(1, |_| 10) && bench.begun.is_empty() && take_broken(&bench.ctx).is_empty());
}

#[test]
fn what_a_person_stops_stays_so_until_asked_again() {
    let mut bench = Bench::new();
    bench.ask_endless(1);
    assert_eq!(bench.question.progress(), Some(0.0));
    bench.question.give_up();
    assert_eq!(bench.question.progress(), None);
    bench.settle(1, |_| 10);
    assert!(bench.question.is_given_up() && bench.begun == [1]);
    bench.question.again();
    bench.settle(1, |_| 10);
    assert_eq!((bench.question.current(), &*bench.begun), (Some(&10), &[1, 1][..]));
}

#[test]
fn what_is_withdrawn_or_let_go_is_told_to_stop() {
    let (send, stopped) = channel();
    let endless = |send: Sender<()>| {
        move |progress: &Progress| {
            while !progress.is_stopped() {
                std::thread::yield_now();
            }
            let _ = send.send(());
            0
        }
    };
    let mut bench = Bench::new();
    bench.ask(1, endless(send.clone()));
    assert!(bench.question.withdraw() && !bench.question.is_busy());
    stopped.recv().unwrap();
    while bench.question.running.is_some() {
        bench.question.collect();
    }
    assert!(!bench.question.withdraw(), "nothing is new any more");
    bench.ask(2, endless(send.clone()));
    bench.question.let_go();
    stopped.recv().unwrap();
    bench.ask(3, endless(send));
    drop(bench);
    stopped.recv().unwrap();
}

#[test]
fn what_is_taken_is_there_once_and_can_be_asked_for_again() {
    let mut bench = Bench::new();
    assert_eq!(bench.question.taken(), None);
    for nth in 1..=2 {
        bench.settle(1, move |_| nth);
        assert_eq!(bench.question.taken(), Some((1, Some(nth))));
        assert_eq!(bench.question.taken(), None);
    }
    bench.settle(1, breaks_off);
    assert_eq!(bench.question.taken(), Some((1, None)));
    assert_eq!(bench.question.taken(), None);
    bench.settle(2, |_| 20);
    bench.ask_endless(3);
    assert_eq!(bench.question.taken(), None, "an earlier answer is not taken for this one");
}

#[test]
fn the_window_is_woken_once_and_an_idle_one_asks_for_nothing() {
    for _ in 0..200 {
        let mut bench = Bench::new();
        let woken = Arc::new(AtomicUsize::new(0));
        let count = woken.clone();
        bench.ctx.set_request_repaint_callback(move |_| {
            count.fetch_add(1, Ordering::SeqCst);
        });
        bench.settle(1, |_| 7);
        assert_eq!((bench.question.current(), woken.load(Ordering::SeqCst)), (Some(&7), 1));
        for _ in 0..5 {
            assert!(!bench.ask(1, |_| 8), "nothing is new");
        }
        assert_eq!((woken.load(Ordering::SeqCst), &*bench.begun), (1, &[1][..]));
    }
}
