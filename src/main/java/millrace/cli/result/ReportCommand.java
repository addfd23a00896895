// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.io.Writer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.cli.exit.AssessmentExitCode;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.IssuerOptions;
import millrace.cli.option.RunSourceOption;
import millrace.cli.option.VerifiedRun;
import millrace.document.file.AtomicFile;
import millrace.document.file.LabSigningKey;
import millrace.document.file.SignedFile;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.report.certificate.Certificate;
import millrace.report.certificate.CertificateHeader;
import millrace.report.certificate.TestSheet;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.page.Report;
import millrace.report.paper.PdfPage;
import millrace.terminal.Console;
import millrace.time.Seeds;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the report of a run. */
@Command(
    name = "report",
    mixinStandardHelpOptions = true,
    description = "Writes the report of a run as one HTML file that needs no network, or as a PDF.",
    footer = {
      "",
      "Examples:",
      "  millrace report 12 -o fx3-0042.html",
      "  millrace report 12 --sheet -o fx3-0042-sheet.html",
      "  millrace report 12 --certificate --customer 'Harbour Works, Osk'",
      "  millrace report 12 --annex -o fx3-0042-annex.html",
      "  millrace report 12 -o fx3-0042.html --sign lab.pem",
      "  millrace report --check fx3-0042.html --key lab-public.pem"
    })
public final class ReportCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(arity = "0..1", paramLabel = "RUN", description = "A run, by number or UUID.")
  private Optional<String> run = Optional.empty();

  @Option(
      names = "-o",
      paramLabel = "FILE",
      description =
          "Where it goes; report-RUN.html, sheet-RUN.html, certificate-RUN.html or annex-RUN.html"
              + " unless given.")
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--sheet",
      description = {
        "The test sheet that goes with the unit, one page for a board, instead. Issuer and"
            + " customer",
        "stand on it where laboratory.yaml or the options name them."
      })
  private boolean testSheet;

  @Option(
      names = "--certificate",
      description = {
        "The calibration certificate for a customer, two to four pages, instead: issued by the",
        "laboratory of laboratory.yaml, with results, U and k, traceability and decision rule.",
        "Only of a run that has ended and fits its digest and seal."
      })
  private boolean certificate;

  @Option(
      names = "--annex",
      description = "The report as annex of the certificate, under its number.")
  private boolean annex;

  @Option(
      names = "--pdf",
      description = "Write a PDF instead of a page; so does a file name that ends in .pdf.")
  private boolean pdf;

  @Mixin private IssuerOptions issuer = new IssuerOptions();

  @Option(
      names = "--monte-carlo",
      description = {
        "Compare every result with Monte Carlo trials in which every error is drawn anew;",
        "the page says of each result, and of all together, whether they agree. Takes minutes."
      })
  private boolean monteCarlo;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description = "Seed of the trials (default: ${DEFAULT-VALUE}).")
  private long seed;

  @Option(
      names = "--sign",
      paramLabel = "KEY",
      description =
          "Sign the page with the laboratory's private key, a PEM file; the signature goes to a"
              + " file beside it that ends in .sig.")
  private Optional<Path> sign = Optional.empty();

  @Option(
      names = "--check",
      paramLabel = "PAGE",
      description =
          "Instead of writing: check a page against the signature beside it; needs --key.")
  private Optional<Path> check = Optional.empty();

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description = "With --check: the laboratory's public key, a PEM file.")
  private Optional<Path> key = Optional.empty();

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public ReportCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    boolean checks = check.isPresent();
    if (checks != key.isPresent()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--check without --key or the other way; expected both or neither");
    }
    if (checks == run.isPresent()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "expected a RUN to write of, or a page to --check");
    }
    refuseWhatDoesNotFit();
    return checks
        ? checked(check.orElseThrow(), LabSigningKey.checking(key.orElseThrow())).number()
        : written(run.orElseThrow(), sign.map(LabSigningKey::signing)).number();
  }

  private ExitCode checked(Path page, LabSigningKey.Checking laboratory) {
    if (!SignedFile.isWhole(page, laboratory)) {
      console.print("NOT verified: %s is not as the holder of that key signed it".formatted(page));
      return ExitCode.LOGBOOK;
    }
    console.print("verified: %s is as the holder of that key signed it".formatted(page));
    return ExitCode.DONE;
  }

  private void refuseWhatDoesNotFit() {
    List<String> kinds = new ArrayList<>();
    kinds.addAll(testSheet ? List.of("--sheet") : List.of());
    kinds.addAll(certificate ? List.of("--certificate") : List.of());
    kinds.addAll(annex ? List.of("--annex") : List.of());
    if (kinds.size() > 1) {
      throw refusal(String.join(" with ", kinds) + "; expected one of them");
    }
    if (!certificate && !annex) {
      (testSheet ? issuer.onlyOfCertificates() : issuer.any())
          .ifPresent(
              given -> {
                throw refusal(given + " without --certificate or --annex; expected one of them");
              });
    }
    if (issuer.replacesUnderTheSameNumber()) {
      throw refusal("--replaces without a --number of its own; expected one for the new one");
    }
  }

  private CommandLine.ParameterException refusal(String words) {
    return new CommandLine.ParameterException(spec.commandLine(), words);
  }

  private ExitCode written(String name, Optional<LabSigningKey.Signing> laboratory) {
    try (Logbook book = source.readOnly()) {
      long id = book.find(name).id();
      RunReader reader = book.reader(id);
      Optional<CertificateHeader> header = header(book, reader.summary());
      Assessment assessment = monteCarlo ? tried(reader) : Assessor.assess(reader);
      Path out =
          file.orElseGet(() -> Path.of("%s-%s.%s".formatted(kind(), id, pdf ? "pdf" : "html")));
      Consumer<Writer> page = writer -> page(writer, assessment, reader, header);
      if (pdf || out.toString().toLowerCase(Locale.ROOT).endsWith(".pdf")) {
        AtomicFile.write(out, "-o", PdfPage.of(page));
      } else {
        HtmlPageFrame.write(out, page);
      }
      laboratory.ifPresent(signing -> SignedFile.sign(out, signing));
      console.print(out.toString());
      console.error(new AssessmentExitCode(assessment).sentence());
    }
    return ExitCode.DONE;
  }

  private Assessment tried(RunReader reader) {
    try (ShownTrialProgress progress = new ShownTrialProgress(console)) {
      return Assessor.assess(reader, Assessor.basis(reader), new Seeds(seed), progress);
    }
  }

  private Optional<CertificateHeader> header(Logbook book, RunSummary run) {
    if (!certificate && !annex) {
      return Optional.empty();
    }
    VerifiedRun.require(book, run, "a certificate");
    return Optional.of(issuer.header(run));
  }

  private String kind() {
    String other = annex ? "annex" : "report";
    String stated = certificate ? "certificate" : other;
    return testSheet ? "sheet" : stated;
  }

  private void page(
      Writer writer, Assessment assessment, RunReader run, Optional<CertificateHeader> header) {
    if (testSheet) {
      TestSheet.write(writer, issuer.parties(run.summary()), assessment, run);
    } else if (certificate) {
      Certificate.write(writer, header.orElseThrow(), assessment, run);
    } else {
      Report.write(writer, assessment, run, header.map(CertificateHeader::number));
    }
  }
}
