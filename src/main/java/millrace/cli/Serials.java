package millrace.cli;

import millrace.datasheet.Datasheet;
import millrace.document.Words;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;

/** Serial numbers against the pattern of the datasheet. */
final class Serials {
  private Serials() {}

  static void check(String serial, Datasheet sheet) {
    boolean blank = serial.isBlank();
    boolean fits = sheet.serial().map(p -> p.matcher(serial).matches()).orElse(true);
    if (blank || !fits) {
      throw new BadInputException(
          new Fault(
              Place.of("--unit"),
              "the serial number is " + Words.quoted(serial),
              sheet
                  .serial()
                  .map(
                      p -> "one of the form " + p.pattern() + " (datasheet '" + sheet.name() + "')")
                  .orElse("a serial number"),
              "Read it again from the unit; if it is right, it is a unit of another kind."));
    }
  }
}
