// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.laboratory.Laboratory;
import millrace.laboratory.LaboratoryFile;
import millrace.logbook.RunSummary;
import millrace.report.certificate.CertificateHeader;
import millrace.report.certificate.DocumentParties;
import millrace.time.SystemClock;
import picocli.CommandLine.Option;

/** The issuer and the recipient of a document, from a laboratory file and the command line. */
public final class IssuerOptions {
  private static final Path USUAL = Path.of("laboratory.yaml");

  @Option(
      names = "--laboratory",
      paramLabel = "FILE",
      description = "Who issues it; laboratory.yaml in this folder unless given.")
  private Optional<Path> laboratory = Optional.empty();

  @Option(
      names = "--customer",
      paramLabel = "LINE",
      description = "Name and address of the customer; once for each line.")
  private List<String> customer = new ArrayList<>();

  @Option(
      names = "--number",
      paramLabel = "NUMBER",
      description = "The number of the certificate, if not the one that the laboratory file gives.")
  private Optional<String> number = Optional.empty();

  @Option(
      names = "--place",
      paramLabel = "PLACE",
      description = "Where it was calibrated, if not where the laboratory file says.")
  private Optional<String> place = Optional.empty();

  @Option(
      names = "--tested-by",
      paramLabel = "NAME",
      description = "Who tested, if not the operator of the run.")
  private Optional<String> testedBy = Optional.empty();

  @Option(
      names = "--released-by",
      paramLabel = "NAME",
      description = "Who releases it, if not whom the laboratory file names.")
  private Optional<String> releasedBy = Optional.empty();

  @Option(
      names = "--issued",
      paramLabel = "DATE",
      description = "Day of issue, such as 2026-11-30; today unless given.")
  private Optional<LocalDate> issued = Optional.empty();

  @Option(
      names = "--replaces",
      paramLabel = "NUMBER",
      description = "The certificate that it replaces; needs a --number of its own.")
  private Optional<String> replaces = Optional.empty();

  /** The first option given that only a certificate takes. */
  public Optional<String> onlyOfCertificates() {
    List<String> given = new ArrayList<>();
    number.ifPresent(n -> given.add("--number"));
    place.ifPresent(n -> given.add("--place"));
    issued.ifPresent(n -> given.add("--issued"));
    replaces.ifPresent(n -> given.add("--replaces"));
    return given.stream().findFirst();
  }

  /** The first option given. */
  public Optional<String> any() {
    List<String> given = new ArrayList<>();
    laboratory.ifPresent(n -> given.add("--laboratory"));
    customer.stream().findFirst().ifPresent(n -> given.add("--customer"));
    testedBy.ifPresent(n -> given.add("--tested-by"));
    releasedBy.ifPresent(n -> given.add("--released-by"));
    return onlyOfCertificates().or(() -> given.stream().findFirst());
  }

  /** Whether the document replaces another one but has no number of its own. */
  public boolean replacesUnderTheSameNumber() {
    return replaces.isPresent() && (number.isEmpty() || number.equals(replaces));
  }

  /** The facts of a certificate of a run about itself. */
  public CertificateHeader header(RunSummary run) {
    Laboratory from = LaboratoryFile.read(file(laboratory));
    LocalDate day =
        issued.orElseGet(
            () -> new SystemClock().now().atOffset(run.start().offset()).toLocalDate());
    return new CertificateHeader(
        from,
        number.orElseGet(
            () -> from.numbering().number(day.getYear(), run.id(), run.start().unit(), run.uuid())),
        day,
        customer,
        place.orElseGet(from::whereItCalibrates),
        testedBy.or(() -> run.start().people().operator()),
        releasedBy.or(from::releasedBy),
        replaces);
  }

  /** The issuer and the recipient of a page that needs no laboratory. */
  public DocumentParties parties(RunSummary run) {
    Optional<Laboratory> from = whereNamed(laboratory);
    return new DocumentParties(
        from,
        customer,
        testedBy.or(() -> run.start().people().operator()),
        releasedBy.or(() -> from.flatMap(Laboratory::releasedBy)));
  }

  /**
   * The issuer of a document that does not need one.
   *
   * @param named the given file; it must exist
   * @return its content, else that of the usual file; empty where neither exists
   */
  public static Optional<Laboratory> whereNamed(Optional<Path> named) {
    return named.isPresent() || Files.exists(USUAL)
        ? Optional.of(LaboratoryFile.read(file(named)))
        : Optional.empty();
  }

  private static Path file(Optional<Path> named) {
    Path file = named.orElse(USUAL);
    if (Files.exists(file)) {
      return file;
    }
    throw new BadInputException(
        new InputFault(
            FilePlace.of(file.toString()),
            "there is no such file",
            "a laboratory file, which says who issues the document",
            "'millrace new laboratory "
                + file
                + "' writes one from a few questions; or name yours with --laboratory."));
  }
}
