// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;

/** Cautions for a repeat of the measurement, on the first page. */
final class CautionSection {
  private CautionSection() {}

  static void write(ReportContext sheet) {
    sheet.out().line().open("aside", "class", "caution").element("h2", "Caution");
    sheet
        .list(
            List.of(
                "Millrace is not a safety device; no person or property may depend on its safe"
                    + " state. Local codes, the law and the rules of your laboratory come first.",
                "A source drives its open-circuit voltage into an open loop: above 60 V DC treat"
                    + " every terminal as dangerous to touch, cover it, and switch off before"
                    + " reaching in.",
                "A chamber or supply that runs unattended needs a cut-out of its own that works"
                    + " without any computer; check it before each night.",
                "A chamber below the dew point of the room wets what is in it; a wet fixture leaks,"
                    + " and the result is wrong before it is dangerous."))
        .end();
  }
}
