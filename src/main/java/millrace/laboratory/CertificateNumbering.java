// SPDX-License-Identifier: Apache-2.0
package millrace.laboratory;

import java.util.UUID;

/**
 * The numbering of certificates: a text with {@code {year}} of issue, {@code {run}}, {@code {unit}}
 * and {@code {uuid}} in it. One of {@code {run}} and {@code {uuid}} must be there, so that no two
 * runs of a logbook have the same number; the last twelve digits of the UUID tell runs of all
 * logbooks apart.
 *
 * @param pattern such as {@code OSK-{year}-{run}}
 */
public record CertificateNumbering(String pattern) {
  private static final int UUID_DIGITS = 12;

  /** Checks that runs are told apart and that nothing else stands in braces. */
  public CertificateNumbering {
    if (!pattern.contains("{run}") && !pattern.contains("{uuid}")) {
      throw new IllegalArgumentException(
          "'"
              + pattern
              + "' gives every run the same number; expected {run} or {uuid} in it, as in"
              + " 'OSK-{year}-{run}'");
    }
    String rest = pattern.replaceAll("\\{(year|run|unit|uuid)}", "");
    if (rest.indexOf('{') >= 0 || rest.indexOf('}') >= 0) {
      throw new IllegalArgumentException(
          "'" + pattern + "' has braces around something else than year, run, unit and uuid");
    }
  }

  /**
   * The number of a certificate.
   *
   * @param year of issue
   * @param run the local number of the run
   * @param unit the serial number of the unit
   * @param uuid the run everywhere
   * @return the pattern with all of it filled in
   */
  public String number(int year, long run, String unit, UUID uuid) {
    String digits = uuid.toString();
    return pattern
        .replace("{year}", Integer.toString(year))
        .replace("{run}", Long.toString(run))
        .replace("{uuid}", digits.substring(digits.length() - UUID_DIGITS))
        .replace("{unit}", unit);
  }
}
