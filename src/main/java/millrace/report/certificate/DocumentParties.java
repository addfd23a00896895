// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.List;
import java.util.Optional;
import millrace.laboratory.Laboratory;

/**
 * Who issues a document, for whom, and who answers for it: what no logbook knows.
 *
 * @param laboratory who issues it; empty if nobody was named
 * @param customer the lines of name and address; empty if none was named
 * @param testedBy who measured; empty if nobody was named
 * @param releasedBy who answers for it, with function; empty if nobody was named
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
