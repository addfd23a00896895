// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * The facts of a digital certificate about itself and people, which no logbook contains.
 *
 * @param laboratory the issuer; with its country
 * @param number its own number
 * @param issued day of issue
 * @param begun the first day of the calibration
 * @param ended the last day of the calibration
 * @param customer lines of name and address; not empty
 * @param place the place of calibration
 * @param testedBy the person who measured; empty if nobody was named
 * @param releasedBy the person responsible for it
 * @param replaces the number of the certificate that it replaces
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
  /** Copies the list; requires the facts that the schema demands. */
  public CertificateDetails {
    customer = List.copyOf(customer);
    if (customer.isEmpty() || laboratory.country().isEmpty()) {
      throw new IllegalArgumentException("a certificate names a customer and a country");
    }
  }
}
