//! A sign of life on a terminal while something takes its time. On a pipe there is none.

use std::io::IsTerminal;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// What is done sooner shows nothing.
const PATIENCE: Duration = Duration::from_secs(1);
/// Between two drawings.
const TICK: Duration = Duration::from_millis(120);

/// How far a piece of work is; goes away with it.
pub(super) struct Progress {
    bar: ProgressBar,
    /// Closed when the work is done, so that the one who waits to show it stops.
    done: Option<Sender<()>>,
    waiting: Option<JoinHandle<()>>,
}

impl Progress {
    /// Work of so many steps; of one that does not tell how far it is, its time.
    pub fn of(what: &'static str, steps: usize) -> Self {
        let (length, template) = if steps > 1 {
            (
                Some(steps as u64),
                "{msg} {wide_bar} {pos}/{len}, {elapsed}",
            )
        } else {
            (None, "{spinner} {msg}, {elapsed}")
        };
        let bar = ProgressBar::with_draw_target(length, ProgressDrawTarget::hidden());
        bar.set_message(what);
        let style = ProgressStyle::with_template(template);
        bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
        if std::io::stderr().is_terminal() {
            return Self::after(PATIENCE, bar, ProgressDrawTarget::stderr);
        }
        Self {
            bar,
            done: None,
            waiting: None,
        }
    }

    /// Shows the bar there once so much time has gone by.
    fn after(patience: Duration, bar: ProgressBar, target: fn() -> ProgressDrawTarget) -> Self {
        let (done, until) = mpsc::channel();
        let shown = bar.clone();
        let waiting = thread::spawn(move || {
            if until.recv_timeout(patience) == Err(RecvTimeoutError::Timeout) {
                shown.set_draw_target(target());
                shown.enable_steady_tick(TICK);
            }
        });
        Self {
            bar,
            done: Some(done),
            waiting: Some(waiting),
        }
    }

    /// One step done.
    pub fn step(&self) {
        self.bar.inc(1);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        drop(self.done.take());
        // Before the bar goes, so that it is not shown afterwards.
        if let Some(waiting) = self.waiting.take() {
            let _ = waiting.join();
        }
        self.bar.finish_and_clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use indicatif::TermLike;
    use std::io;
    use std::sync::atomic::{AtomicUsize, Ordering};

    static DRAWN: AtomicUsize = AtomicUsize::new(0);

    /// A terminal that counts what is written on it.
    #[derive(Debug)]
    struct Counting;

    impl TermLike for Counting {
        fn width(&self) -> u16 {
            80
        }
        fn move_cursor_up(&self, _: usize) -> io::Result<()> {
            Ok(())
        }
        fn move_cursor_down(&self, _: usize) -> io::Result<()> {
            Ok(())
        }
        fn move_cursor_right(&self, _: usize) -> io::Result<()> {
            Ok(())
        }
        fn move_cursor_left(&self, _: usize) -> io::Result<()> {
            Ok(())
        }
        fn write_line(&self, text: &str) -> io::Result<()> {
            self.write_str(text)
        }
        fn write_str(&self, text: &str) -> io::Result<()> {
            DRAWN.fetch_add(text.trim().len(), Ordering::SeqCst);
            Ok(())
        }
        fn clear_line(&self) -> io::Result<()> {
            Ok(())
        }
        fn flush(&self) -> io::Result<()> {
            Ok(())
        }
    }

    fn on_counting(patience: Duration) -> Progress {
        let bar = ProgressBar::with_draw_target(Some(3), ProgressDrawTarget::hidden());
        Progress::after(patience, bar, || {
            ProgressDrawTarget::term_like(Box::new(Counting))
        })
    }

    #[test]
    fn work_that_is_done_soon_shows_nothing_and_is_not_waited_for() {
        let before = std::time::Instant::now();
        let progress = on_counting(Duration::from_secs(3600));
        progress.step();
        drop(progress);
        assert!(before.elapsed() < Duration::from_secs(60));
        assert_eq!(DRAWN.load(Ordering::SeqCst), 0);
        // What takes longer does.
        let progress = on_counting(Duration::ZERO);
        let mut tries = 0;
        while DRAWN.load(Ordering::SeqCst) == 0 && tries < 1000 {
            thread::sleep(Duration::from_millis(10));
            tries += 1;
        }
        drop(progress);
        assert!(DRAWN.load(Ordering::SeqCst) > 0);
    }
}
