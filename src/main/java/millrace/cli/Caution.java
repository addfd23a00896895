package millrace.cli;

import java.util.List;
import java.util.Locale;
import millrace.datasheet.Datasheet;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;

/** The usual cautions before a run, and their confirmation. */
final class Caution {
  private final Console console;
  private final boolean unattended;

  Caution(Console console, boolean unattended) {
    this.console = console;
    this.unattended = unattended;
  }

  /**
   * Has the caution above 60 V DC confirmed where it applies.
   *
   * @return what was confirmed, for the logbook
   */
  List<String> confirm(Datasheet sheet, boolean confirmed, boolean simulated) {
    if (!RunCommand.above60V(sheet) || simulated) {
      return List.of();
    }
    String volts = Quantities.print(sheet.openCircuitVoltageV().orElseThrow(), Dimension.VOLTAGE);
    console.error(
        "CAUTION: open terminals of this unit reach %s DC. Voltages above 60 V DC can injure or kill."
            .formatted(volts));
    console.error(
        "Guard every live part, work as your local codes and licensed practice ask. Millrace is not"
            + " a safety device.");
    if (!confirmed && !asked()) {
      throw new BadInputException(
          new Fault(
              Place.of("run"),
              "the caution above 60 V DC was not confirmed",
              "a person who answers 'yes', or --confirm-above-60V",
              "Guard the terminals first."));
    }
    return List.of(
        "voltages up to %s DC: confirmed %s"
            .formatted(volts, confirmed ? "by --confirm-above-60V" : "at the terminal"));
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
