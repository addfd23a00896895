// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * What a certificate says of itself and of people, and what no logbook knows.
 *
 * @param laboratory who issues it
 * @param number its own number
 * @param issued day of issue
 * @param customer the lines of name and address; empty if none was named
 * @param place where the calibration was carried out
 * @param testedBy who measured; empty if nobody was named
 * @param releasedBy who answers for it, with function; empty if nobody was named
 * @param replaces the number of the certificate that it takes the place of
 */
public record CertificateHeader(
    Laboratory laboratory,
    String number,
    LocalDate issued,
    List<String> customer,
    String place,
    Optional<String> testedBy,
    Optional<String> releasedBy,
    Optional<String> replaces) {
  /** Copies the list. */
  public CertificateHeader {
    customer = List.copyOf(customer);
  }
}
