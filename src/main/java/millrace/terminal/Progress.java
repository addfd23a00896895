// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.time.Duration;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Shows the progress of a run: one line that is overwritten on a terminal, plain lines elsewhere.
 */
public final class Progress implements RunObserver {
  private static final int BAR = 24;
  private static final int PLAIN_STEPS = 10;
  private static final int WIDTH = 100;

  /** One column stays free: some terminals wrap a line that fills the last column. */
  private final int width;

  private static final Set<IncidentKind> QUIET =
      EnumSet.of(IncidentKind.STARTED, IncidentKind.ENDED, IncidentKind.RANGE, IncidentKind.SETTLE);

  private final Console console;
  private int points;
  private int done;
  private int number;
  private int shownStep = -1;
  private String where = "";
  private Optional<Duration> left = Optional.empty();
  private boolean lineOpen;
  private String unfolded = "";

  /**
   * Creates it for one run, or several in turn.
   *
   * @param console shows the progress
   */
  public Progress(Console console) {
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
  public void point(PlannedPoint point, Ahead ahead) {
    done = ahead.before();
    points = ahead.points();
    number = point.number();
    where = words(point.conditions());
    left = Optional.of(ahead.left());
    show("");
  }

  private static String words(PointConditions c) {
    StringBuilder words = new StringBuilder(c.range().orElse(""));
    c.temperatureDegC().ifPresent(t -> add(words, QuantityText.print(t, Dimension.TEMPERATURE)));
    c.loadOhm().ifPresent(r -> add(words, QuantityText.print(r, Dimension.RESISTANCE, 4)));
    return words.toString();
  }

  private static void add(StringBuilder words, String more) {
    words.append(words.length() > 0 ? ", " : "").append(more);
  }

  @Override
  public void waiting(String why, Optional<Duration> left) {
    show(why + left.filter(Progress::counts).map(d -> ", about " + span(d) + " more").orElse(""));
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
  public void changed(String what) {
    line("  the plan was changed: " + what);
  }

  @Override
  public void ended(RunOutcome outcome) {
    done = points - outcome.toGo();
    number = 0;
    left = Optional.of(Duration.ZERO);
    finishLine();
  }

  private void show(String waiting) {
    int step = points == 0 ? 0 : done * PLAIN_STEPS / points;
    if (console.interactive()) {
      overwrite(waiting.isEmpty() ? where : waiting);
    } else if (step > shownStep) {
      shownStep = step;
      console.error(
          "  %3s %%  %s%s%s".formatted(percent(), place(), apart(where), apart(leftText())));
    }
  }

  /** Parts that do not fit are left out whole, the least important first. */
  private void overwrite(String text) {
    String place = place();
    String share = "%3s %%".formatted(percent());
    String words = Console.visible(text);
    List<String> ways =
        List.of(
            bar() + share + apart(place) + apart(words) + apart(leftText()),
            share + apart(place) + apart(words) + apart(leftText()),
            share + apart(words) + apart(leftText()),
            share + apart(words),
            words);
    Optional<String> fits = ways.stream().filter(way -> way.length() <= width).findFirst();
    if (fits.isPresent()) {
      console.err().print("\r" + fits.get() + " ".repeat(width - fits.get().length()));
      console.err().flush();
      lineOpen = true;
    } else if (!words.equals(unfolded)) {
      unfolded = words;
      line(Wrapped.at(width, words));
    }
  }

  /** Points added to the plan later have the last numbers, whatever their place in the order. */
  private String place() {
    int here = Math.min(done + 1, points);
    return number == 0 || number == here
        ? "point %s of %s".formatted(here, points)
        : "point %s, %s of %s".formatted(number, here, points);
  }

  private static String apart(String words) {
    return words.isEmpty() ? "" : "  " + words;
  }

  private String leftText() {
    return left.filter(Progress::counts).map(d -> "about " + span(d) + " left").orElse("");
  }

  private int percent() {
    return points == 0 ? 100 : done * 100 / points;
  }

  /** Only if there is room for it beside the words. */
  private String bar() {
    if (width < WIDTH - 1) {
      return "";
    }
    int full = points == 0 ? BAR : done * BAR / points;
    return "[" + "#".repeat(full) + ".".repeat(BAR - full) + "] ";
  }

  /** A step that exceeds its estimated time shows no remaining time instead of 0 s. */
  private static boolean counts(Duration left) {
    return left.toSeconds() > 0;
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

  /** A time span in everyday words. */
  public static String span(Duration d) {
    return TimeSpanSeconds.inWords(d);
  }
}
