// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.cli.option.IssuerOptions;
import millrace.cli.option.VerifiedRun;
import millrace.document.file.AtomicFile;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.exchange.dcc.CertificateDetails;
import millrace.exchange.dcc.CertificateSigningKey;
import millrace.exchange.dcc.DigitalCertificateWriter;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.report.certificate.CertificateHeader;
import millrace.report.words.RunDays;

/**
 * Writes the digital certificate of a run, or lists the facts that the schema requires and nobody
 * stated.
 */
final class DigitalCertificateExport {
  private DigitalCertificateExport() {}

  /** Writes the certificate and returns its number. */
  static String write(
      Logbook book,
      RunReader reader,
      IssuerOptions issuer,
      Optional<CertificateSigningKey> key,
      Path file) {
    RunSummary run = reader.summary();
    VerifiedRun.requireReal(run, "a program does not see that it was not");
    VerifiedRun.require(book, run, "a certificate");
    CertificateDetails details = details(run, issuer.header(run));
    Assessment assessment = Assessor.assess(reader);
    if (assessment.results().stream().noneMatch(DigitalCertificateExport::isTold)) {
      throw refused("run " + run.id(), "it has no current and no result with a limit", "one");
    }
    byte[] bytes = DigitalCertificateWriter.written(details, assessment, reader, key);
    AtomicFile.write(file, "-o", bytes);
    return details.number();
  }

  private static boolean isTold(Result r) {
    return r.judgement().isPresent() || r.quantity() == ResultQuantity.CURRENT;
  }

  private static CertificateDetails details(RunSummary run, CertificateHeader header) {
    if (header.laboratory().country().isEmpty()) {
      throw refused(
          "the laboratory file",
          "it names no country",
          "'country:' with two capital letters, such as SE, which the schema asks for");
    }
    List<String> customer = header.customer();
    if (customer.isEmpty()) {
      throw refused("--customer", "no customer is named", "one, which the schema asks for");
    }
    String released =
        header
            .releasedBy()
            .orElseThrow(
                () ->
                    refused(
                        "--released-by",
                        "nobody releases the certificate",
                        "a name, here or as 'released by' in the laboratory file"));
    LocalDate begun = RunDays.first(run).orElseThrow(() -> undated(run));
    return new CertificateDetails(
        header.laboratory(),
        header.number(),
        header.issued(),
        begun,
        RunDays.last(run).orElse(begun),
        customer,
        header.place(),
        header.testedBy(),
        released,
        header.replaces());
  }

  private static BadInputException undated(RunSummary run) {
    return refused(
        "run " + run.id(),
        "its file of readings states no day",
        "'taken_at' in the file, since the schema asks for the days of the calibration");
  }

  private static BadInputException refused(String place, String found, String expected) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(place),
            found,
            expected,
            "'millrace report --certificate' writes a page without it."));
  }
}
