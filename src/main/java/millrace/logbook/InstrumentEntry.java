// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;

/**
 * An instrument with its identity and certificate as used in a run.
 *
 * @param name its name in the bench file
 * @param roles what it does, words of the bench file joined by commas
 * @param driver the driver that speaks to it
 * @param address where it is reached
 * @param identity its reply to the identification query, as received; empty text if it has none
 * @param serial its serial number
 * @param certificate its calibration certificate
 * @param since from when on it was used in this run: a second entry of one name is a replacement
 */
public record InstrumentEntry(
    String name,
    String roles,
    String driver,
    String address,
    String identity,
    Optional<String> serial,
    Optional<Certificate> certificate,
    Instant since) {

  /**
   * The cover data of a calibration certificate; its values are in the bench file.
   *
   * @param laboratory who issued it
   * @param number its number
   * @param calibratedOn day of calibration
   * @param dueOn day from which it is overdue
   */
  public record Certificate(
      String laboratory,
      String number,
      Optional<LocalDate> calibratedOn,
      Optional<LocalDate> dueOn) {}
}
