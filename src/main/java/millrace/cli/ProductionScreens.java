package millrace.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.fault.StoppedException;
import millrace.report.ResultWords;
import millrace.run.Operator;
import millrace.run.StopRequest;
import millrace.run.production.Board;
import millrace.run.production.BoardOutcome;
import millrace.run.production.BoardResult;
import millrace.run.production.Check;
import millrace.run.production.Desk;
import millrace.run.production.Screen;
import millrace.run.production.Shortfall;

/**
 * The production screens on a terminal: keyboard and scanner alone. An outcome is told in words, in
 * a shape and in tones that the colour-blind tell apart (blue and vermillion, of one another's
 * brightness no copies), and never by the tone alone.
 */
final class ProductionScreens implements Desk, Operator, Screen.Visitor<Boolean> {
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
  private Runnable meanwhile = () -> {};

  ProductionScreens(Console console, boolean practice, StopRequest stop) {
    this.console = console;
    this.practice = practice;
    this.stop = stop;
  }

  @Override
  public Optional<String> scan(String prompt) {
    console.out().print((practice ? "[practice] " : "") + Console.visible(prompt) + " ");
    console.flush();
    try {
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
      return Typed.at(console).line(meanwhile);
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

  @Override
  public String ask(String question) {
    return scan(question).orElse("nobody answered: the input ended");
  }

  @Override
  public void whileWaiting(Runnable act) {
    meanwhile = act;
  }

  @Override
  public void show(Screen screen) {
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
          .println(console.interactive() ? tone + padded(Console.visible(line)) + PLAIN : line);
    }
  }

  private static String padded(String line) {
    return line + " ".repeat(Math.max(0, WIDTH - line.length()));
  }

  @Override
  public Boolean refused(Screen.Refused screen) {
    frame();
    large(YELLOW, "stop", "REFUSED");
    console.print("%s: %s".formatted(screen.scanned(), screen.reason()));
    console.print(screen.remedy());
    return true;
  }

  @Override
  public Boolean locked(Screen.Locked screen) {
    frame();
    large(YELLOW, "stop", "LOCKED");
    console.print("No board is tested: " + screen.reason());
    console.print(screen.remedy());
    return true;
  }

  @Override
  public Boolean testing(Screen.Testing screen) {
    frame();
    Board board = screen.board();
    String what = board.purpose() == Board.Purpose.CHECK ? "Checking the bench with" : "Testing";
    String slot = board.slot().map(s -> " in slot " + s).orElse("");
    String again = board.attempt() > 1 ? ", test %d of this unit".formatted(board.attempt()) : "";
    console.print("%s %s%s%s ...".formatted(what, board.serial(), slot, again));
    board.cause().ifPresent(c -> console.print("Cause: " + c));
    return true;
  }

  @Override
  public Boolean tested(Screen.Tested screen) {
    frame();
    BoardResult result = screen.result();
    outcome(result.outcome());
    console.print(
        "%s: %s%s"
            .formatted(
                screen.board().serial(),
                result.outcome().text(),
                result.run() > 0 ? " (run %d)".formatted(result.run()) : ""));
    shortfalls(result.shortfalls());
    result.doubts().forEach(d -> console.print("  " + d));
    result.hint().ifPresent(h -> console.print("Look at: " + h));
    result.bin().ifPresent(b -> console.print("Bin: " + b));
    screen
        .first()
        .ifPresent(f -> console.print("The first result counts: %s.".formatted(f.text())));
    console.print(next(result.outcome()));
    console.print(tally(screen.tally()));
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

  private void shortfalls(List<Shortfall> shortfalls) {
    shortfalls.stream().limit(MOST_SHORTFALLS).forEach(this::shortfall);
    if (shortfalls.size() > MOST_SHORTFALLS) {
      console.print("  and %d more".formatted(shortfalls.size() - MOST_SHORTFALLS));
    }
  }

  /** By how much first, then the figures. */
  private void shortfall(Shortfall s) {
    String by =
        s.beyond() > 0
            ? ResultWords.amount(s.beyond(), s.result()) + " beyond its limit"
            : "inside its limit, by less than its uncertainty";
    console.print("  %s: %s".formatted(ResultWords.name(s.result()), by));
    console.print("    " + ResultWords.figures(s.result()));
  }

  private static String next(BoardOutcome outcome) {
    return switch (outcome) {
      case PASS, CONDITIONAL_PASS -> "Next: take it out, put in and scan the next board.";
      case FAIL -> "Next: put it with the failed boards, scan the next.";
      case NOT_JUDGED -> "Next: put it aside, scan the next.";
      case ABORTED -> "Next: mend what is said above, then scan the same board again.";
    };
  }

  static String tally(Screen.Tally tally) {
    String outcomes =
        tally.first().entrySet().stream()
            .sorted(Map.Entry.comparingByKey())
            .map(e -> e.getValue() + " " + e.getKey().text().toLowerCase(java.util.Locale.ROOT))
            .collect(Collectors.joining(", "));
    return "So far: %d of %d units passed at their first test (%s); %d retests, %d scans refused."
        .formatted(
            tally.passed(),
            tally.units(),
            outcomes.isEmpty() ? "none" : outcomes,
            tally.retests(),
            tally.refused());
  }

  @Override
  public Boolean checked(Screen.Checked screen) {
    frame();
    Check check = screen.check();
    large(
        check.good() ? BLUE : VERMILLION,
        check.good() ? "tick" : "cross",
        check.good() ? "BENCH OK" : "BENCH FAIL");
    console.print(
        "Self-check with %s: %s"
            .formatted(screen.board().serial(), check.good() ? "good." : "OUT."));
    check.findings().forEach(f -> console.print("  " + f));
    console.print(
        check.charted()
            ? "Held against the chart of %d earlier good checks.".formatted(check.learnt())
            : "Held against the datasheet alone: its chart knows %d of %d checks."
                .formatted(check.learnt(), check.needed()));
    if (!screen.doubtful().isEmpty()) {
      console.print(
          "In doubt are the boards since the last good check, runs %s: test them again."
              .formatted(
                  screen.doubtful().stream()
                      .map(String::valueOf)
                      .collect(Collectors.joining(", "))));
    }
    return true;
  }

  @Override
  public Boolean told(Screen.Told screen) {
    frame();
    console.print(screen.headline());
    screen.lines().forEach(console::print);
    return true;
  }

  /** The last screen. */
  void end(Screen.Tally tally) {
    frame();
    console.print(practice ? "End of practice." : "End of the session.");
    console.print(tally(tally).replace("So far: ", ""));
    console.flush();
  }
}
