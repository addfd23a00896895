// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.fault.BadInputException;
import millrace.fault.InputFault;

/**
 * A digital calibration certificate (DCC 3), as far as Millrace reads it: its issuer, its item, and
 * its tables of reference value, indicated value and error with U and k. Immutable.
 *
 * @param laboratory the issuer; empty text where the file states none
 * @param number its unique identifier
 * @param calibrated the last day of the calibration
 * @param items serial and other numbers of the calibrated item
 * @param signer the name in the certificate of its key; the file is unchanged since that key signed
 *     it, the owner of the key is not checked. Empty without a signature that can be checked
 * @param tables the tables read
 * @param unread the parts not read, a sentence without full stop each
 */
public record DigitalCertificate(
    String laboratory,
    String number,
    Optional<LocalDate> calibrated,
    List<String> items,
    Optional<String> signer,
    List<CalibrationTable> tables,
    List<String> unread) {
  private static final String REFERENCE = "basic_referenceValue";
  private static final String INDICATION = "basic_measuredValue";
  private static final String ERROR = "basic_measurementError";

  /** Copies the lists. */
  public DigitalCertificate {
    items = List.copyOf(items);
    tables = List.copyOf(tables);
    unread = List.copyOf(unread);
  }

  /**
   * Reads a certificate. Nothing but the file is opened, whatever it refers to.
   *
   * @param file an XML file
   * @return its content
   * @throws BadInputException if it is no such certificate, or contradicts itself
   */
  public static DigitalCertificate read(Path file) {
    return read(file.toString(), XmlFile.bytes(file));
  }

  /**
   * Reads a certificate from bytes.
   *
   * @param file the name for messages
   * @param bytes the content of the file
   * @return its content
   * @throws BadInputException if it is no such certificate, or contradicts itself
   */
  public static DigitalCertificate read(String file, byte[] bytes) {
    XmlElement root = XmlFile.read(file, bytes);
    if (!root.name().equals("digitalCalibrationCertificate")) {
      throw StatedValues.refusal(
          root.place(),
          "the file holds '" + root.name() + "'",
          "'digitalCalibrationCertificate', the root of a digital calibration certificate");
    }
    XmlElement core =
        root.at("administrativeData", "coreData")
            .orElseThrow(
                () -> StatedValues.refusal(root.place(), "its core data are missing", "coreData"));
    List<CalibrationTable> tables = new ArrayList<>();
    List<String> unread = new ArrayList<>();
    root.within().filter(e -> e.name().equals("result")).forEach(r -> result(r, tables, unread));
    Optional<String> signer = signer(root, bytes, unread);
    return new DigitalCertificate(
        root.text("administrativeData", "calibrationLaboratory", "contact", "name", "content")
            .orElse(""),
        core.text("uniqueIdentifier").orElse(""),
        core.at("endPerformanceDate").map(DigitalCertificate::day),
        root.at("administrativeData", "items").stream()
            .flatMap(XmlElement::within)
            .filter(e -> e.name().equals("identification"))
            .flatMap(i -> i.text("value").stream())
            .toList(),
        signer,
        tables,
        unread);
  }

  /** The signer of the file, if the file is unchanged since it was signed. */
  private static Optional<String> signer(XmlElement root, byte[] bytes, List<String> unread) {
    Optional<XmlElement> element = root.at("Signature");
    if (element.isEmpty()) {
      return Optional.empty();
    }
    CertificateSignature signature = CertificateSignature.of(bytes);
    if (signature.signer().isEmpty()) {
      unread.add("its signature, of a kind that is not checked here");
    } else if (!signature.whole()) {
      throw new BadInputException(
          new InputFault(
              element.get().place(),
              "the file is not as it was signed",
              "a certificate whose signature fits",
              "Ask who issued the certificate for the file itself; take no number from this one."));
    }
    return signature.signer();
  }

  private static LocalDate day(XmlElement date) {
    try {
      return LocalDate.parse(date.text());
    } catch (DateTimeParseException e) {
      throw StatedValues.refusal(
          date.place(), "'" + date.text() + "' is no date", "one as in 2027-03-31");
    }
  }

  private static void result(
      XmlElement result, List<CalibrationTable> tables, List<String> unread) {
    int before = tables.size();
    result
        .at("data")
        .ifPresent(
            data ->
                data.within()
                    .filter(e -> e.name().equals("list") || e.name().equals("data"))
                    .forEach(list -> table(list).ifPresent(tables::add)));
    if (tables.size() == before) {
      unread.add(
          "line %s, '%s': it has no reference value beside an indicated value"
              .formatted(result.place().line(), result.text("name", "content").orElse("a result")));
    }
    if (result.within().anyMatch(e -> e.isKind("basic_conformity"))) {
      unread.add(
          "line %s: its statement of conformity; corrections need none"
              .formatted(result.place().line()));
    }
  }

  private static Optional<CalibrationTable> table(XmlElement list) {
    Optional<XmlElement> reference = one(list, REFERENCE);
    Optional<XmlElement> indication = one(list, INDICATION);
    if (reference.isEmpty() || indication.isEmpty()) {
      return Optional.empty();
    }
    StatedValues known = StatedValues.of(reference.get(), true);
    StatedValues shown = StatedValues.of(indication.get(), true);
    Optional<StatedValues> error = one(list, ERROR).map(e -> StatedValues.of(e, false));
    StatedValues bearer = error.filter(e -> e.uncertainty().isPresent()).orElse(shown);
    StatedValues.Uncertainties u =
        bearer
            .uncertainty()
            .orElseThrow(
                () ->
                    StatedValues.refusal(
                        list.place(),
                        "neither the error nor the indicated value has an uncertainty",
                        "U with its coverage factor"));
    return Optional.of(new DccTableRows(list.place(), known, shown, error, u).table());
  }

  private static Optional<XmlElement> one(XmlElement list, String kind) {
    List<XmlElement> found = list.all("quantity").stream().filter(q -> q.isKind(kind)).toList();
    if (found.size() > 1) {
      throw StatedValues.refusal(
          found.get(1).place(), "a second '" + kind + "' in one list", "one");
    }
    return found.stream().findFirst();
  }
}
