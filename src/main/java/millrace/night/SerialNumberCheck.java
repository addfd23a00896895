// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import millrace.datasheet.Datasheet;
import millrace.document.FileMessageText;
import millrace.document.RegexFromFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** Checks serial numbers against the pattern of the datasheet. */
public final class SerialNumberCheck {
  private SerialNumberCheck() {}

  /**
   * Refuses a serial number that does not match.
   *
   * @param option the option that gave it
   */
  public static void check(String option, String serial, Datasheet sheet) {
    boolean blank = serial.isBlank();
    boolean fits = sheet.serial().map(p -> p.matcher(serial).matches()).orElse(true);
    if (blank || !fits) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(option),
              "the serial number is " + FileMessageText.quoted(serial),
              sheet
                  .serial()
                  .map(
                      p ->
                          "one like "
                              + RegexFromFile.shown(p)
                              + ", as the datasheet '"
                              + sheet.name()
                              + "' says")
                  .orElse("a serial number"),
              "Read it again from the unit; if it is right, it is a unit of another kind."));
    }
  }
}
