package millrace.cli;

import java.time.Duration;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.Conditions;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.run.RunObserver;
import millrace.run.RunOutcome;
import millrace.sequence.Plan.PlannedPoint;

/** Shows how far a run is: one line that is written over on a terminal, plain lines elsewhere. */
final class Progress implements RunObserver {
  private static final int BAR = 24;
  private static final int PLAIN_STEPS = 10;
  private static final int WIDTH = 100;

  /** One column stays free: a line that fills the last is broken by some terminals. */
  private final int width;

  private static final Set<IncidentKind> QUIET =
      EnumSet.of(IncidentKind.STARTED, IncidentKind.ENDED, IncidentKind.RANGE, IncidentKind.SETTLE);

  private final Console console;
  private int points;
  private int done;
  private int shownStep = -1;
  private String where = "";
  private Optional<Duration> left = Optional.empty();
  private boolean lineOpen;

  Progress(Console console) {
    this.console = console;
    this.width = Math.min(WIDTH, Math.max(1, console.terminal().columns() - 1));
  }

  @Override
  public void began(long run, int points, int done) {
    this.points = points;
    line(
        "run %s: %s points%s"
            .formatted(run, points, done > 0 ? ", " + done + " of them done before" : ""));
  }

  @Override
  public void point(PlannedPoint point, Duration left) {
    done = point.ordinal() - 1;
    where = words(point.conditions());
    this.left = Optional.of(left);
    show("");
  }

  private static String words(Conditions c) {
    StringBuilder words = new StringBuilder(c.range().orElse(""));
    c.temperatureDegC().ifPresent(t -> add(words, Quantities.print(t, Dimension.TEMPERATURE)));
    c.loadOhm().ifPresent(r -> add(words, Quantities.print(r, Dimension.RESISTANCE, 4)));
    return words.toString();
  }

  private static void add(StringBuilder words, String more) {
    words.append(words.length() > 0 ? ", " : "").append(more);
  }

  @Override
  public void waiting(String why, Optional<Duration> left) {
    show(why + left.map(d -> ", about " + span(d) + " more").orElse(""));
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    show("");
  }

  @Override
  public void incident(Incident incident) {
    if (!QUIET.contains(incident.kind())) {
      String kind = incident.kind().text();
      line("  " + (incident.text().startsWith(kind) ? "" : kind + ": ") + incident.text());
    }
  }

  @Override
  public void ended(RunOutcome outcome) {
    done = points - outcome.toGo();
    left = Optional.of(Duration.ZERO);
    finishLine();
  }

  private void show(String waiting) {
    int step = points == 0 ? 0 : done * PLAIN_STEPS / points;
    if (console.interactive()) {
      String text = waiting.isEmpty() ? where : waiting;
      String line =
          "%s%3s %%  point %s of %s  %s  %s"
              .formatted(bar(), percent(), Math.min(done + 1, points), points, text, leftText());
      console.err().print("\r" + padded(Console.visible(line)));
      console.err().flush();
      lineOpen = true;
    } else if (step > shownStep) {
      shownStep = step;
      console.error(
          "  %3s %%  point %s of %s%s%s"
              .formatted(
                  percent(), Math.min(done + 1, points), points, apart(where), apart(leftText())));
    }
  }

  private static String apart(String words) {
    return words.isEmpty() ? "" : "  " + words;
  }

  private String leftText() {
    return left.map(d -> "about " + span(d) + " left").orElse("");
  }

  private int percent() {
    return points == 0 ? 100 : done * 100 / points;
  }

  /** Only where there is room for it beside the words. */
  private String bar() {
    if (width < WIDTH - 1) {
      return "";
    }
    int full = points == 0 ? BAR : done * BAR / points;
    return "[" + "#".repeat(full) + ".".repeat(BAR - full) + "] ";
  }

  private String padded(String line) {
    return line.length() >= width
        ? line.substring(0, width)
        : line + " ".repeat(width - line.length());
  }

  private void line(String text) {
    finishLine();
    console.error(text);
  }

  private void finishLine() {
    if (lineOpen) {
      console.err().println();
      lineOpen = false;
    }
  }

  /** A time span as people say it. */
  static String span(Duration d) {
    long minutes = Math.round(d.toSeconds() / 60.0);
    if (d.toSeconds() < 100) {
      return d.toSeconds() + " s";
    }
    return minutes < 100
        ? minutes + " min"
        : Numbers.format("%d h %02d min", minutes / 60, minutes % 60);
  }
}
