// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import millrace.quantity.NumberText;

/** What a reader of a load curve must know. */
final class LoadCurveNotes {
  private LoadCurveNotes() {}

  /**
   * The notes on a curve, in whole sentences.
   *
   * @param all its loads
   * @param steady those whose readings do not scatter abnormally
   * @param line through its plateau
   * @param spanV lowest and highest voltage of the plateau, V
   */
  static List<String> of(
      List<EqualLoadPoints> all, List<EqualLoadPoints> steady, PlateauLine line, double[] spanV) {
    List<String> notes = new ArrayList<>();
    if (line.curved()) {
      notes.add(
          "curved plateau: the points depart from a straight line by more than their u; the slope"
              + " is the mean one from "
              + volt(spanV[0])
              + " to "
              + volt(spanV[1])
              + " and its u is widened");
    }
    if (line.scaledByResiduals()) {
      notes.add("no point-wise uncertainty is known: the scatter about the line stands in");
    }
    if (!line.timeTerm()) {
      notes.add("no time term: the sweep does not tell a drift from a slope");
    }
    int unsteady = all.size() - steady.size();
    if (unsteady > 0) {
      notes.add(
          "%s with readings that scatter abnormally: flagged and left out"
              .formatted(NumberText.counted(unsteady, "load")));
    }
    long torn = steady.stream().filter(l -> !l.kneeOnly() && l.torn()).count();
    if (torn > 0) {
      notes.add(
          "%s with repeats that differ by more than their u: each carries that as 'difference of repeats'"
              .formatted(NumberText.counted(torn, "load")));
    }
    return notes;
  }

  private static String volt(double v) {
    return NumberText.significant(v, 4) + " V";
  }
}
