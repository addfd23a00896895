// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import java.util.Locale;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.terminal.Console;
import millrace.terminal.Questions;

/** The usual cautions before a run, and their confirmation. */
public final class CautionConfirmation {
  private final Console console;
  private final boolean unattended;

  /**
   * Creates the cautions at a console.
   *
   * @param console shows them
   * @param unattended true if nobody answers
   */
  public CautionConfirmation(Console console, boolean unattended) {
    this.console = console;
    this.unattended = unattended;
  }

  /**
   * Asks for confirmation of the caution above 60 V DC where it applies.
   *
   * @return the confirmation, for the logbook
   */
  public List<String> confirm(BenchVoltageSources voltages, boolean confirmed, boolean simulated) {
    if (voltages.dangerous().isEmpty() || simulated) {
      return List.of();
    }
    voltages.caution().forEach(console::error);
    if (!confirmed && !asked()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run"),
              "the caution above 60 V DC was not confirmed",
              "a person who answers 'yes', or --confirm-above-60V",
              "Guard the terminals first."));
    }
    return List.of(
        "voltages up to %s: confirmed %s"
            .formatted(
                voltages.dangerous().get(0),
                confirmed ? "by --confirm-above-60V" : "at the terminal"));
  }

  private boolean asked() {
    if (unattended || !console.interactive()) {
      return false;
    }
    String answer =
        new Questions(console, false)
            .ask("Are all parts above 60 V DC guarded against touch? Type 'yes' to go on:");
    return answer.toLowerCase(Locale.ROOT).equals("yes");
  }
}
