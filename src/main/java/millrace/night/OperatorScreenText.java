// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import millrace.analysis.conformity.FailedResult;
import millrace.logbook.ProductionRunPurpose;
import millrace.quantity.NumberText;
import millrace.report.words.ResultWords;
import millrace.run.production.BenchSelfCheck;
import millrace.run.production.BoardOutcome;
import millrace.run.production.BoardResult;
import millrace.run.production.BoardTestJob;
import millrace.run.production.OperatorScreen;

/**
 * The words of a production screen, for every place that shows it.
 *
 * @param tone the meaning of the screen
 * @param shape the shape beside the word: tick, cross, question, triangle or stop; empty for none
 * @param word the word to read from a distance; empty for none
 * @param lines the other lines, at least a sentence each, the most important first; a line that
 *     begins with blanks belongs to the line before it
 */
public record OperatorScreenText(Tone tone, String shape, String word, List<String> lines) {
  private static final int MOST_SHORTFALLS = 12;

  /** The meaning of a screen; colour alone never carries it. */
  public enum Tone {
    /** The board or the bench is good. */
    GOOD,
    /** The board or the bench is not good. */
    BAD,
    /** Something needs the operator. */
    CAUTION,
    /** Nothing is decided. */
    PLAIN
  }

  /** Copies the list. */
  public OperatorScreenText {
    lines = List.copyOf(lines);
  }

  /**
   * Makes the text of a screen.
   *
   * @param screen the screen
   * @return its words
   */
  public static OperatorScreenText of(OperatorScreen screen) {
    return screen.accept(new Words());
  }

  private static OperatorScreenText plain(List<String> lines) {
    return new OperatorScreenText(Tone.PLAIN, "", "", lines);
  }

  /** The counts of a shift up to now, without the words 'so far'. */
  public static String tally(OperatorScreen.Tally tally) {
    String outcomes =
        tally.first().entrySet().stream()
            .sorted(Map.Entry.comparingByKey())
            .map(e -> e.getValue() + " " + e.getKey().text().toLowerCase(Locale.ROOT))
            .collect(Collectors.joining(", "));
    return "%s of %s passed at the first test (%s); %s, %s refused."
        .formatted(
            tally.passed(),
            NumberText.counted(tally.units(), "unit"),
            outcomes.isEmpty() ? "none" : outcomes,
            NumberText.counted(tally.retests(), "retest"),
            NumberText.counted(tally.refused(), "scan"));
  }

  /** The words of each kind of screen. */
  private static final class Words implements OperatorScreen.Visitor<OperatorScreenText> {
    @Override
    public OperatorScreenText refused(OperatorScreen.Refused screen) {
      return new OperatorScreenText(
          Tone.CAUTION,
          "stop",
          "REFUSED",
          List.of("%s: %s".formatted(screen.scanned(), screen.reason()), screen.remedy()));
    }

    @Override
    public OperatorScreenText locked(OperatorScreen.Locked screen) {
      return new OperatorScreenText(
          Tone.CAUTION,
          "stop",
          "LOCKED",
          List.of("No board is tested: " + screen.reason(), screen.remedy()));
    }

    @Override
    public OperatorScreenText testing(OperatorScreen.Testing screen) {
      BoardTestJob board = screen.board();
      String what =
          board.purpose() == ProductionRunPurpose.CHECK ? "Checking the bench with" : "Testing";
      String slot = board.slot().map(s -> " in slot " + s).orElse("");
      String again = board.attempt() > 1 ? ", test %s of this unit".formatted(board.attempt()) : "";
      List<String> lines = new ArrayList<>();
      lines.add("%s %s%s%s ...".formatted(what, board.serial(), slot, again));
      board.cause().ifPresent(c -> lines.add("Cause: " + c));
      return plain(lines);
    }

    @Override
    public OperatorScreenText tested(OperatorScreen.Tested screen) {
      BoardResult result = screen.result();
      List<String> lines = new ArrayList<>();
      lines.add(
          "%s: %s%s"
              .formatted(
                  screen.board().serial(),
                  result.outcome().text(),
                  result.run() > 0 ? " (run %s)".formatted(result.run()) : ""));
      shortfalls(result.shortfalls(), lines);
      result.doubts().forEach(d -> lines.add("  " + d));
      result.early().ifPresent(e -> lines.add("  " + e.inWords() + "."));
      result.hint().ifPresent(h -> lines.add("Look at: " + h));
      result.bin().ifPresent(b -> lines.add("Bin: " + b));
      lines.addAll(result.drifts());
      screen.first().ifPresent(f -> lines.add("The first result counts: %s.".formatted(f.text())));
      lines.add(next(result.outcome()));
      lines.add("So far: " + tally(screen.tally()));
      return outcome(result.outcome(), lines);
    }

    private static OperatorScreenText outcome(BoardOutcome outcome, List<String> lines) {
      return switch (outcome) {
        case PASS, CONDITIONAL_PASS -> new OperatorScreenText(Tone.GOOD, "tick", "PASS", lines);
        case FAIL -> new OperatorScreenText(Tone.BAD, "cross", "FAIL", lines);
        case NOT_JUDGED -> new OperatorScreenText(Tone.CAUTION, "question", "NOT JUDGED", lines);
        case ABORTED -> new OperatorScreenText(Tone.CAUTION, "triangle", "ABORTED", lines);
      };
    }

    private static void shortfalls(List<FailedResult> shortfalls, List<String> lines) {
      shortfalls.stream().limit(MOST_SHORTFALLS).forEach(s -> shortfall(s, lines));
      if (shortfalls.size() > MOST_SHORTFALLS) {
        lines.add("  and %s more".formatted(shortfalls.size() - MOST_SHORTFALLS));
      }
    }

    /** The excess first, then the figures. */
    private static void shortfall(FailedResult s, List<String> lines) {
      String by =
          s.beyond() > 0
              ? ResultWords.amount(s.beyond(), s.result()) + " beyond its limit"
              : "inside its limit, by less than its uncertainty";
      lines.add("  %s: %s".formatted(ResultWords.name(s.result()), by));
      lines.add("    " + ResultWords.figures(s.result()));
    }

    private static String next(BoardOutcome outcome) {
      return switch (outcome) {
        case PASS, CONDITIONAL_PASS -> "Next: take it out, put in and scan the next board.";
        case FAIL -> "Next: put it with the failed boards, scan the next.";
        case NOT_JUDGED -> "Next: put it aside, scan the next.";
        case ABORTED -> "Next: mend what is said above, then scan the same board again.";
      };
    }

    @Override
    public OperatorScreenText checked(OperatorScreen.Checked screen) {
      BenchSelfCheck check = screen.check();
      List<String> lines = new ArrayList<>();
      lines.add(
          "Self-check with %s: %s"
              .formatted(screen.board().serial(), check.good() ? "good." : "OUT."));
      check.findings().forEach(f -> lines.add("  " + f));
      lines.add(
          check.charted()
              ? "Held against the chart of %s earlier good checks.".formatted(check.learnt())
              : "Held against the datasheet alone: its chart knows %s of %s checks."
                  .formatted(check.learnt(), check.needed()));
      if (!screen.doubtful().isEmpty()) {
        lines.add(
            "In doubt are the boards since the last good check, runs %s: test them again."
                .formatted(
                    screen.doubtful().stream()
                        .map(String::valueOf)
                        .collect(Collectors.joining(", "))));
      }
      return check.good()
          ? new OperatorScreenText(Tone.GOOD, "tick", "BENCH OK", lines)
          : new OperatorScreenText(Tone.BAD, "cross", "BENCH FAIL", lines);
    }

    @Override
    public OperatorScreenText told(OperatorScreen.Message screen) {
      List<String> lines = new ArrayList<>(List.of(screen.headline()));
      lines.addAll(screen.lines());
      return plain(lines);
    }
  }
}
