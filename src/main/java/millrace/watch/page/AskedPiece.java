// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.logbook.PlanChange;
import millrace.logbook.RunState;
import millrace.quantity.NumberText;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;

/**
 * The requests to a run and its responses: the logbook records them, a pressed button is no proof.
 */
public final class AskedPiece {
  private static final String HEARD = "asked from another terminal: ";
  private static final int MOST = 5;

  private AskedPiece() {}

  /**
   * A request from this page.
   *
   * @param text its text in the request file and the logbook
   * @param heardBefore the number of equal requests that the run had received by then
   * @param at the time
   */
  public record Asked(String text, int heardBefore, Instant at) {}

  /**
   * The number of times that a run has received a request.
   *
   * @param incidents the incidents of the run
   * @param text its text in the request file
   * @return the number
   */
  public static int heard(List<Incident> incidents, String text) {
    return (int) incidents.stream().filter(i -> i.text().equals(HEARD + text)).count();
  }

  /** Whether the last request about pauses asks for one, and the point in progress has ended. */
  static boolean paused(RunSnapshot look) {
    String last = "";
    for (Incident i : look.happened().incidents()) {
      if (i.text().equals(HEARD + "pause") || i.text().equals(HEARD + "continue")) {
        last = i.text();
      } else if (i.kind() == IncidentKind.RESUMED) {
        last = "";
      }
    }
    return last.endsWith("pause") && look.writer().goesOn();
  }

  static void write(Markup out, RunSnapshot look, List<Asked> asked) {
    List<Incident> heard =
        look.happened().incidents().stream()
            .filter(i -> i.kind() == IncidentKind.OPERATOR && i.text().startsWith(HEARD))
            .toList();
    List<Asked> open =
        asked.stream()
            .filter(a -> heard(look.happened().incidents(), a.text()) <= a.heardBefore())
            .toList();
    if (heard.isEmpty() && open.isEmpty()) {
      return;
    }
    out.element("h2", "What was asked of it, and what it did").open("ul");
    for (int i = open.size() - 1; i >= 0; i--) {
      out.element("li", unheard(look, open.get(i)));
    }
    heard.stream()
        .skip(Math.max(0, heard.size() - MOST))
        .sorted((a, b) -> b.elapsed().compareTo(a.elapsed()))
        .forEach(i -> out.element("li", PrintedUnitSymbols.of(answer(look, i))));
    out.close();
  }

  private static String unheard(RunSnapshot look, Asked asked) {
    boolean stop = asked.text().startsWith("stop");
    String since = "Asked: " + asked.text() + ". ";
    if (stop && look.run().state() != RunState.UNFINISHED) {
      return since + "The run has ended: " + look.run().remark() + safe(look, 0);
    }
    return look.writer().goesOn()
        ? since + "The run has not answered yet; it hears between points and while it soaks."
        : since + "No process writes the run any more: nobody hears it.";
  }

  private static String answer(RunSnapshot look, Incident heard) {
    String what = heard.text().substring(HEARD.length());
    return "%s: the run heard '%s'%s"
        .formatted(look.toTheSecond(heard.at()), what, did(look, heard, what));
  }

  private static String did(RunSnapshot look, Incident heard, String what) {
    if (what.equals("pause")) {
      return paused(look) ? " and takes no further point." : " and paused.";
    }
    if (what.equals("continue")) {
      return " and went on.";
    }
    if (what.startsWith("stop")) {
      return " and ended." + safe(look, heard.elapsed().toNanos());
    }
    return changed(look, heard, what)
        .map(c -> did(look, c))
        .or(() -> refused(look, heard))
        .orElse("; it has not done it yet.");
  }

  /** The change of the plan that a request led to. */
  private static Optional<PlanChange> changed(RunSnapshot look, Incident heard, String what) {
    return look.happened().changes().stream()
        .filter(c -> what.startsWith(c.kind().text()))
        .filter(c -> c.elapsed().compareTo(heard.elapsed()) >= 0)
        .findFirst();
  }

  private static String did(RunSnapshot look, PlanChange change) {
    if (change.kind() == PlanChange.Kind.ADD_TEMPERATURE) {
      return " and added it: " + change.words() + ".";
    }
    Set<String> left = new HashSet<>(change.keys());
    left.removeAll(look.done());
    return " and leaves out %s, %s."
        .formatted(change.words(), NumberText.counted(left.size(), "point"));
  }

  private static Optional<String> refused(RunSnapshot look, Incident heard) {
    return look.happened().incidents().stream()
        .filter(i -> i.kind() == IncidentKind.CAUTION)
        .filter(i -> i.elapsed().compareTo(heard.elapsed()) >= 0)
        .filter(i -> i.text().startsWith("no temperature is "))
        .findFirst()
        .map(i -> ": " + i.text() + ".");
  }

  private static String safe(RunSnapshot look, long afterNanos) {
    Optional<Incident> safe =
        look.happened().incidents().stream()
            .filter(i -> i.kind() == IncidentKind.SAFE_STATE)
            .filter(i -> i.elapsed().toNanos() >= afterNanos)
            .reduce((a, b) -> b);
    return safe.map(i -> " At " + look.toTheSecond(i.at()) + ": " + i.text())
        .orElse(" That the bench is safe is not in the logbook: look at it.");
  }
}
