// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.fault.StoppedException;
import millrace.logbook.ProductionRunPurpose;
import millrace.quantity.NumberText;
import millrace.report.words.ResultWords;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.StopRequest;
import millrace.run.production.BenchSelfCheck;
import millrace.run.production.BoardOutcome;
import millrace.run.production.BoardResult;
import millrace.run.production.BoardTestJob;
import millrace.run.production.FailedResult;
import millrace.run.production.OperatorScreen;
import millrace.run.production.OperatorStation;
import millrace.terminal.BlockLetters;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import millrace.terminal.TypedLineReader;
import millrace.terminal.Wrapped;

/**
 * The production screens on a terminal: keyboard and scanner alone. An outcome is told in words, in
 * a shape and in tones that the colour-blind tell apart (blue and vermillion, of one another's
 * brightness no copies), and never by the tone alone.
 */
public final class ProductionScreens
    implements OperatorStation, OperatorPrompt, OperatorScreen.Visitor<Boolean> {
  private static final int WIDTH = 78;
  private static final String PRACTICE =
      "PRACTICE - SIMULATED BENCH - nothing is counted, no real unit is tested";
  private static final int MOST_SHORTFALLS = 12;

  private static final String BLUE = "\u001b[1;97;48;5;25m";
  private static final String VERMILLION = "\u001b[1;97;48;5;166m";
  private static final String YELLOW = "\u001b[1;30;48;5;227m";
  private static final String PLAIN = "\u001b[0m";

  private final Console console;
  private final boolean practice;
  private final StopRequest stop;
  private final Questions questions;
  private Runnable meanwhile = () -> {};

  /**
   * Screens of a session.
   *
   * @param console the terminal
   * @param practice true if nothing is counted
   * @param stop through which the session is ended early
   */
  public ProductionScreens(Console console, boolean practice, StopRequest stop) {
    this.console = console;
    this.practice = practice;
    this.stop = stop;
    this.questions = new Questions(console, false);
  }

  /** A sentence or more; on a terminal broken between words. */
  private void say(String text) {
    console.print(
        console.terminal().shown()
            ? Wrapped.at(Math.min(WIDTH, console.terminal().columns()), text)
            : text);
  }

  @Override
  public Optional<String> scan(String prompt) {
    try {
      List<String> early = TypedLineReader.at(console).fresh();
      if (!early.isEmpty()) {
        say(Questions.leftOut(early));
      }
      console.out().print(marked(Console.visible(prompt)) + " ");
      console.flush();
      Optional<String> line = typed().map(ProductionScreens::clean);
      if (!console.interactive()) {
        console.print(line.orElse(""));
      }
      return line;
    } catch (IOException e) {
      console.error("no scan could be read: " + e.getMessage());
      return Optional.empty();
    }
  }

  private Optional<String> typed() throws IOException {
    Thread waiting = stop.runsIn(Thread.currentThread());
    try {
      return TypedLineReader.at(console).line(meanwhile);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StoppedException(
          stop.asked().orElse(StoppedException.Signal.INT),
          "stopped at a question; every board that was tested is in the logbook.");
    } finally {
      stop.backTo(waiting);
    }
  }

  /** Scanners put control characters before and after what they read. */
  private static String clean(String scan) {
    return scan.codePoints()
        .filter(c -> !Character.isISOControl(c))
        .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
        .toString()
        .strip();
  }

  private String marked(String prompt) {
    return (practice ? "[practice] " : "") + prompt;
  }

  /** What a run or an instrument asks, which a signal ends only where it ends the run. */
  @Override
  public String ask(String question) {
    return clean(questions.ask(marked(question)));
  }

  @Override
  public void whileWaiting(Runnable act) {
    meanwhile = act;
    questions.whileWaiting(act);
  }

  @Override
  public void show(OperatorScreen screen) {
    screen.accept(this);
    console.flush();
  }

  private void frame() {
    console.print("");
    console.print("=".repeat(WIDTH));
    if (practice) {
      console.print(PRACTICE);
      console.print("=".repeat(WIDTH));
    }
  }

  private void large(String tone, String shape, String word) {
    List<String> lines = new ArrayList<>(List.of(""));
    lines.addAll(BlockLetters.of(shape, word));
    lines.add("");
    for (String line : lines) {
      // Tones are for the terminal itself; Console.print would spell them out.
      console
          .out()
          .println(
              console.terminal().toned() ? tone + padded(Console.visible(line)) + PLAIN : line);
    }
  }

  private static String padded(String line) {
    return line + " ".repeat(Math.max(0, WIDTH - line.length()));
  }

  @Override
  public Boolean refused(OperatorScreen.Refused screen) {
    frame();
    large(YELLOW, "stop", "REFUSED");
    say("%s: %s".formatted(screen.scanned(), screen.reason()));
    say(screen.remedy());
    return true;
  }

  @Override
  public Boolean locked(OperatorScreen.Locked screen) {
    frame();
    large(YELLOW, "stop", "LOCKED");
    say("No board is tested: " + screen.reason());
    say(screen.remedy());
    return true;
  }

  @Override
  public Boolean testing(OperatorScreen.Testing screen) {
    frame();
    BoardTestJob board = screen.board();
    String what =
        board.purpose() == ProductionRunPurpose.CHECK ? "Checking the bench with" : "Testing";
    String slot = board.slot().map(s -> " in slot " + s).orElse("");
    String again = board.attempt() > 1 ? ", test %s of this unit".formatted(board.attempt()) : "";
    say("%s %s%s%s ...".formatted(what, board.serial(), slot, again));
    board.cause().ifPresent(c -> say("Cause: " + c));
    return true;
  }

  @Override
  public Boolean tested(OperatorScreen.Tested screen) {
    frame();
    BoardResult result = screen.result();
    outcome(result.outcome());
    say(
        "%s: %s%s"
            .formatted(
                screen.board().serial(),
                result.outcome().text(),
                result.run() > 0 ? " (run %s)".formatted(result.run()) : ""));
    shortfalls(result.shortfalls());
    result.doubts().forEach(d -> say("  " + d));
    result.hint().ifPresent(h -> say("Look at: " + h));
    result.bin().ifPresent(b -> say("Bin: " + b));
    screen.first().ifPresent(f -> say("The first result counts: %s.".formatted(f.text())));
    say(next(result.outcome()));
    say(tally(screen.tally()));
    return true;
  }

  private void outcome(BoardOutcome outcome) {
    switch (outcome) {
      case PASS, CONDITIONAL_PASS -> large(BLUE, "tick", "PASS");
      case FAIL -> large(VERMILLION, "cross", "FAIL");
      case NOT_JUDGED -> large(YELLOW, "question", "NOT JUDGED");
      case ABORTED -> large(YELLOW, "triangle", "ABORTED");
    }
  }

  private void shortfalls(List<FailedResult> shortfalls) {
    shortfalls.stream().limit(MOST_SHORTFALLS).forEach(this::shortfall);
    if (shortfalls.size() > MOST_SHORTFALLS) {
      say("  and %s more".formatted(shortfalls.size() - MOST_SHORTFALLS));
    }
  }

  /** By how much first, then the figures. */
  private void shortfall(FailedResult s) {
    String by =
        s.beyond() > 0
            ? ResultWords.amount(s.beyond(), s.result()) + " beyond its limit"
            : "inside its limit, by less than its uncertainty";
    say("  %s: %s".formatted(ResultWords.name(s.result()), by));
    say("    " + ResultWords.figures(s.result()));
  }

  private static String next(BoardOutcome outcome) {
    return switch (outcome) {
      case PASS, CONDITIONAL_PASS -> "Next: take it out, put in and scan the next board.";
      case FAIL -> "Next: put it with the failed boards, scan the next.";
      case NOT_JUDGED -> "Next: put it aside, scan the next.";
      case ABORTED -> "Next: mend what is said above, then scan the same board again.";
    };
  }

  static String tally(OperatorScreen.Tally tally) {
    String outcomes =
        tally.first().entrySet().stream()
            .sorted(Map.Entry.comparingByKey())
            .map(e -> e.getValue() + " " + e.getKey().text().toLowerCase(Locale.ROOT))
            .collect(Collectors.joining(", "));
    return "So far: %s of %s passed at the first test (%s); %s, %s refused."
        .formatted(
            tally.passed(),
            NumberText.counted(tally.units(), "unit"),
            outcomes.isEmpty() ? "none" : outcomes,
            NumberText.counted(tally.retests(), "retest"),
            NumberText.counted(tally.refused(), "scan"));
  }

  @Override
  public Boolean checked(OperatorScreen.Checked screen) {
    frame();
    BenchSelfCheck check = screen.check();
    large(
        check.good() ? BLUE : VERMILLION,
        check.good() ? "tick" : "cross",
        check.good() ? "BENCH OK" : "BENCH FAIL");
    say(
        "Self-check with %s: %s"
            .formatted(screen.board().serial(), check.good() ? "good." : "OUT."));
    check.findings().forEach(f -> say("  " + f));
    say(
        check.charted()
            ? "Held against the chart of %s earlier good checks.".formatted(check.learnt())
            : "Held against the datasheet alone: its chart knows %s of %s checks."
                .formatted(check.learnt(), check.needed()));
    if (!screen.doubtful().isEmpty()) {
      say(
          "In doubt are the boards since the last good check, runs %s: test them again."
              .formatted(
                  screen.doubtful().stream()
                      .map(String::valueOf)
                      .collect(Collectors.joining(", "))));
    }
    return true;
  }

  @Override
  public Boolean told(OperatorScreen.Message screen) {
    frame();
    say(screen.headline());
    screen.lines().forEach(this::say);
    return true;
  }

  /** The last screen. */
  public void end(OperatorScreen.Tally tally) {
    frame();
    say(practice ? "End of practice." : "End of the session.");
    say(tally(tally).replace("So far: ", ""));
    console.flush();
  }
}
