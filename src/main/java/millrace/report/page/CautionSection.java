// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;

/** What a person must know before doing the same again. */
final class CautionSection {
  private CautionSection() {}

  static void write(Sheet sheet) {
    sheet
        .section("Caution", "caution")
        .list(
            List.of(
                "Millrace is not a safety device. It puts the bench in its safe state when it can,"
                    + " and no person or property may depend on that.",
                "A chamber that runs unattended needs an over-temperature cut-out of its own that"
                    + " works without any computer; check it before each night.",
                "A current source drives its open-circuit voltage into an open loop. Above 60 V DC"
                    + " treat every terminal as dangerous to touch: cover it, and switch off before"
                    + " reaching in.",
                "A chamber below the dew point of the room wets what is in it; a wet fixture leaks,"
                    + " and the result is wrong before it is dangerous.",
                "Local law, codes and the rules of your laboratory come before anything that is"
                    + " written here."))
        .end();
  }
}
