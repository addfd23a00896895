// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import millrace.assessment.correction.CorrectionResidualCheck;
import millrace.quantity.NumberText;

/** Check of a unit's constants by a later run, as text. Stateless, thread-safe. */
public final class UnitConstantsCheckTable {
  private static final int WIDEST = 30;

  private UnitConstantsCheckTable() {}

  /**
   * One line per range, and a sentence.
   *
   * @param run number of the later run
   * @param check result of the check
   * @return lines, each with its line feed
   */
  public static String print(long run, CorrectionResidualCheck check) {
    TextColumns table =
        new TextColumns(
            WIDEST, "range", "points", "largest before", "worst after", "expected within", "");
    for (CorrectionResidualCheck.Checked c : check.ranges()) {
      table.row(
          c.range(),
          Integer.toString(c.points()),
          ppm(c.before().beforePpm()),
          ppm(c.after().afterPpm()),
          ppm(c.after().expectedPpm()),
          c.holds() ? "holds" : "DOES NOT HOLD");
    }
    String outside =
        check.outside() == 0
            ? ""
            : "%s points lie outside what the constants hold for.\n".formatted(check.outside());
    return "Run %s, corrected; %s:\n%s%s%s\n"
        .formatted(
            run,
            check.sameInstruments()
                ? "the same instruments, so their own errors drop out"
                : "other instruments, so their own errors count",
            table.text(),
            outside,
            sentence(check));
  }

  private static String sentence(CorrectionResidualCheck check) {
    if (check.ranges().isEmpty()) {
      return "Nothing to check: no point lies where the constants hold.";
    }
    return check.holds()
        ? "The constants hold: what is left is no more than was predicted."
        : "The constants do not hold: more is left than was predicted.";
  }

  private static String ppm(double value) {
    return NumberText.significant(value, 3) + " ppm";
  }
}
