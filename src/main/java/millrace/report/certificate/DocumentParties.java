// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * Parties of a document: issuer, customer and the people responsible. No logbook holds these.
 *
 * @param laboratory the laboratory that issues it; empty if not given
 * @param customer lines of the customer's name and address; empty if none was given
 * @param testedBy person who measured; empty if not given
 * @param releasedBy person who released it, with function; empty if not given
 */
public record DocumentParties(
    Optional<Laboratory> laboratory,
    List<String> customer,
    Optional<String> testedBy,
    Optional<String> releasedBy) {
  /** Copies the list. */
  public DocumentParties {
    customer = List.copyOf(customer);
  }
}
