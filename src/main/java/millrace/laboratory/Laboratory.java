// SPDX-License-Identifier: Apache-2.0
package millrace.laboratory;

import java.util.List;
import java.util.Optional;

/**
 * The issuer of a certificate, a test sheet or a label.
 *
 * @param name name of the laboratory
 * @param address its lines; not empty
 * @param country two capital letters (ISO 3166-1); only a digital certificate needs it
 * @param contact how a customer reaches it; empty if not stated
 * @param accreditation what it is accredited for and by whom, in its own words; empty: it claims
 *     none
 * @param numbering how certificates are numbered
 * @param place where it calibrates, where that is not its address
 * @param releasedBy who releases certificates unless another is named; with function
 * @param statement a sentence that stands on each certificate
 */
public record Laboratory(
    String name,
    List<String> address,
    Optional<String> country,
    Optional<String> contact,
    Optional<String> accreditation,
    CertificateNumbering numbering,
    Optional<String> place,
    Optional<String> releasedBy,
    Optional<String> statement) {
  /** Copies the list. */
  public Laboratory {
    address = List.copyOf(address);
  }

  /**
   * The place where a calibration was carried out.
   *
   * @return the place that the file names, else the address on one line
   */
  public String whereItCalibrates() {
    return place.orElse(String.join(", ", address));
  }
}
