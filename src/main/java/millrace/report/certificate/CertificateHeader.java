// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * Facts of a certificate that no logbook holds: laboratory, customer, people and numbers.
 *
 * @param laboratory the laboratory that issues it
 * @param number number of this certificate
 * @param issued day of issue
 * @param customer lines of the customer's name and address; empty if none was given
 * @param place place of calibration
 * @param testedBy person who measured; empty if not given
 * @param releasedBy person who released it, with function; empty if not given
 * @param replaces number of the certificate that this one replaces
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
