// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * What a digital certificate says of itself and of people, and what no logbook knows.
 *
 * @param laboratory who issues it; names its country
 * @param number its own number
 * @param issued day of issue
 * @param begun the first day of the calibration
 * @param ended the last day of the calibration
 * @param customer lines of name and address; not empty
 * @param place where it was calibrated
 * @param testedBy who measured; empty if nobody was named
 * @param releasedBy who answers for it
 * @param replaces the number of the certificate that it takes the place of
 */
public record CertificateDetails(
    Laboratory laboratory,
    String number,
    LocalDate issued,
    LocalDate begun,
    LocalDate ended,
    List<String> customer,
    String place,
    Optional<String> testedBy,
    String releasedBy,
    Optional<String> replaces) {
  /** Copies the list; what the schema demands must be there. */
  public CertificateDetails {
    customer = List.copyOf(customer);
    if (customer.isEmpty() || laboratory.country().isEmpty()) {
      throw new IllegalArgumentException("a certificate names a customer and a country");
    }
  }
}
