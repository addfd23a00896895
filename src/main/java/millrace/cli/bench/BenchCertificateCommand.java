// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.BenchFileEdit;
import millrace.bench.BenchForms;
import millrace.bench.role.RoleName;
import millrace.calibration.CertificateCorrectionLine;
import millrace.cli.exit.ExitCode;
import millrace.document.FileMessageText;
import millrace.document.file.AtomicFile;
import millrace.document.yaml.YamlFile;
import millrace.exchange.dcc.CalibrationTable;
import millrace.exchange.dcc.DigitalCertificate;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.terminal.Console;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Takes the corrections of an instrument from its digital certificate. */
@Command(
    name = "certificate",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Reads the digital calibration certificate of a meter or thermometer and shows the changes to"
          + " the bench file: corrections with their uncertainty, and the certificate's number."
          + " Lists what it cannot read. Nothing is sent to an instrument."
    },
    footer = {
      "",
      "Examples:",
      "  millrace bench certificate t1.xml --instrument t1 --bench bench.yaml",
      "  millrace bench certificate t1.xml --instrument t1 --bench bench.yaml --write"
    })
final class BenchCertificateCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "FILE", description = "The certificate, an XML file.")
  private Path certificate = Path.of("");

  @Option(
      names = "--instrument",
      paramLabel = "NAME",
      required = true,
      description = "The instrument's name in the bench file.")
  private String name = "";

  @Option(names = "--bench", paramLabel = "FILE", required = true, description = "The bench file.")
  private Path bench = Path.of("");

  @Option(
      names = "--role",
      paramLabel = "ROLE",
      description = "Which of its roles, if several fit, such as 'unit thermometer'.")
  private Optional<String> role = Optional.empty();

  @Option(
      names = "--due",
      paramLabel = "DATE",
      description =
          "Until when it counts, by your own interval, such as 2027-11-30: a certificate seldom"
              + " says so.")
  private Optional<LocalDate> due = Optional.empty();

  @Option(
      names = "--write",
      description = "Change the bench file; a copy of it as it was stays beside it.")
  private boolean write;

  BenchCertificateCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    byte[] bytes = YamlFile.bytes(bench);
    BenchFile before = BenchForms.read(bench.toString(), bytes);
    BenchFile.Entry entry = BenchTalkCommand.entry(before, name);
    DigitalCertificate read = DigitalCertificate.read(certificate);
    CalibrationTable table = table(read, entry);
    RoleName chosen = chosen(entry, table.indication());
    List<String> lines = lines(table);
    BenchFileEdit edited =
        BenchFileEdit.of(bench.toString(), new String(bytes, StandardCharsets.UTF_8))
            .withCorrections(name, chosen, lines)
            .withCertificate(name, header(read), droppedDue(entry));
    check(before, edited, chosen, table);
    String done = "not changed; --write puts them there.";
    if (write) {
      Path copy = copy();
      AtomicFile.renew(bench, "--bench", out -> out.write(edited.text()));
      done = "changed; as it was it is in " + copy + ".";
    }
    console.print(
        "%s for '%s' as %s; %s is %s"
            .formatted(
                NumberText.counted(lines.size(), "correction"), name, chosen.text(), bench, done));
    tell(read, entry, edited);
    return ExitCode.DONE.number();
  }

  private void tell(DigitalCertificate read, BenchFile.Entry entry, BenchFileEdit edited) {
    console.print(
        "Certificate %s of %s, %s. It is of: %s."
            .formatted(
                FileMessageText.quoted(read.number()),
                FileMessageText.quoted(read.laboratory()),
                read.calibrated().map(d -> "calibrated " + d).orElse("without a date"),
                String.join(", ", read.items().stream().map(FileMessageText::quoted).toList())));
    read.signer()
        .ifPresent(
            who ->
                console.print(
                    "It is as it was signed with the key of %s; whether that key is theirs, ask"
                            .formatted(FileMessageText.quoted(who))
                        + " them."));
    console.print("Compare that with the plate of '" + name + "'.");
    droppedDue(entry)
        .forEach(
            d ->
                console.print(
                    "Until when it counts is not stated, so nobody will be told that it is overdue:"
                        + " "
                        + d
                        + "."));
    read.unread().forEach(u -> console.print("Not read: " + Console.visible(u) + "."));
    console.print("");
    console.document(edited.block(name));
  }

  /** A due date that counted for the certificate before, and is not replaced. */
  private List<String> droppedDue(BenchFile.Entry entry) {
    return entry
        .certificate()
        .flatMap(BenchFile.Certificate::due)
        .filter(d -> due.isEmpty())
        .map(
            d ->
                "the certificate before was due on %s; state 'due: DATE' of this one, or use --due"
                    .formatted(d))
        .stream()
        .toList();
  }

  /** The one table that corrects an indication. */
  private CalibrationTable table(DigitalCertificate read, BenchFile.Entry entry) {
    List<CalibrationTable> fit =
        read.tables().stream()
            .filter(CalibrationTable::isOfOneKind)
            .filter(t -> entry.roles().keySet().stream().anyMatch(r -> fits(r, t.indication())))
            .toList();
    if (fit.size() == 1) {
      return fit.get(0);
    }
    if (fit.size() > 1) {
      throw refused(
          fit.get(1).place(),
          "this is a second table that fits '" + name + "'",
          "one table, so that it is sure which range it is for",
          "Type what holds into the bench file by hand.");
    }
    throw refused(
        read.tables().isEmpty()
            ? FilePlace.of(certificate.toString())
            : read.tables().get(0).place(),
        read.tables().isEmpty()
            ? "no table of corrections was found"
            : inWords(read.tables().get(0)),
        "reference and indication of the kind that '%s' reads (%s)"
            .formatted(
                name,
                String.join(", ", entry.roles().keySet().stream().map(RoleName::text).toList())),
        "Check --instrument, or type what holds into the bench file by hand." + notRead(read));
  }

  private static String notRead(DigitalCertificate read) {
    return read.unread().isEmpty() ? "" : " Not read: " + String.join("; ", read.unread()) + ".";
  }

  private static String inWords(CalibrationTable table) {
    CalibrationTable.Row first = table.rows().get(0);
    return "its table of %s has indications in %s against references in %s (%s at %s, U = %s, k = %s)"
        .formatted(
            NumberText.counted(table.rows().size(), "value"),
            scale(table.indication()).baseUnit(),
            scale(table.reference()).baseUnit(),
            printed(first.indication(), scale(table.indication())),
            printed(first.reference(), scale(table.reference())),
            printed(first.expanded(), table.indication()),
            NumberText.print(first.coverageFactor()));
  }

  private RoleName chosen(BenchFile.Entry entry, Dimension kind) {
    List<RoleName> fit = entry.roles().keySet().stream().filter(r -> fits(r, kind)).toList();
    List<RoleName> asked =
        fit.stream().filter(r -> role.isEmpty() || r.text().equals(role.get())).toList();
    if (asked.size() == 1) {
      return asked.get(0);
    }
    List<String> names = fit.stream().map(RoleName::text).toList();
    throw refused(
        FilePlace.of("--role"),
        role.map(r -> FileMessageText.quoted(r) + " is no role of '" + name + "' that fits")
            .orElse("'" + name + "' has several roles that fit"),
        FileMessageText.oneOf(names),
        "Name one with --role.");
  }

  /** The kind of reading that the corrections of a role apply to. */
  private static boolean fits(RoleName role, Dimension kind) {
    return switch (role) {
      case CURRENT_METER -> kind == Dimension.CURRENT;
      case VOLTMETER, SHUNT_VOLTMETER -> kind == Dimension.VOLTAGE;
      case UNIT_THERMOMETER, LAB_THERMOMETER, SHUNT_THERMOMETER ->
          kind == Dimension.TEMPERATURE_DIFFERENCE;
      default -> false;
    };
  }

  private static List<String> lines(CalibrationTable table) {
    Dimension kind = table.indication();
    return table.rows().stream()
        .sorted(Comparator.comparingDouble(CalibrationTable.Row::indication))
        .map(
            r ->
                "{at: %s, correction: %s, u: %s, k: %s}"
                    .formatted(
                        printed(r.indication(), scale(kind)),
                        printed(0 - r.error(), kind),
                        printed(r.expanded(), kind),
                        NumberText.print(r.coverageFactor())))
        .toList();
  }

  private static Dimension scale(Dimension kind) {
    return kind == Dimension.TEMPERATURE_DIFFERENCE ? Dimension.TEMPERATURE : kind;
  }

  /** No certificate has more than twelve digits; further digits come from binary fractions. */
  private static String printed(double base, Dimension kind) {
    double tidy = NumberText.parse(NumberText.significant(base, 12)).orElse(base);
    return QuantityText.print(tidy, kind);
  }

  private BenchFile.Certificate header(DigitalCertificate read) {
    if (read.number().isBlank() || read.laboratory().isBlank()) {
      throw refused(
          FilePlace.of("certificate"),
          "it does not say who issued it, or its number",
          "a laboratory and a unique identifier",
          "Ask the laboratory.");
    }
    if (due.isPresent() && read.calibrated().filter(due.get()::isBefore).isPresent()) {
      throw refused(
          FilePlace.of("--due"),
          "%s lies before its calibration on %s".formatted(due.get(), read.calibrated().get()),
          "a day after it",
          "Check the year.");
    }
    return new BenchFile.Certificate(read.laboratory(), read.number(), read.calibrated(), due);
  }

  /** The written file is read back before it is accepted. */
  private void check(
      BenchFile before, BenchFileEdit edited, RoleName chosen, CalibrationTable table) {
    BenchFile after =
        BenchForms.read(bench.toString(), edited.text().getBytes(StandardCharsets.UTF_8));
    List<CertificateCorrectionLine> found =
        after.instruments().get(name).roles().get(chosen).corrections();
    if (!alike(found, table.corrections())
        || !BenchFileEdit.nothingElse(before, after, name, chosen)) {
      throw refused(
          FilePlace.of(bench.toString()),
          "the file is written in a way that cannot be changed line by line",
          "an ordinary bench file, one key on a line",
          "Nothing was changed. Type the corrections in by hand.");
    }
  }

  /** Equal within the rounding of printing. */
  private static boolean alike(
      List<CertificateCorrectionLine> found, List<CertificateCorrectionLine> read) {
    List<CertificateCorrectionLine> left = new ArrayList<>(found);
    read.forEach(
        r ->
            left.stream()
                .filter(
                    f ->
                        near(f.at(), r.at())
                            && near(f.correction(), r.correction())
                            && near(f.standardUncertainty(), r.standardUncertainty()))
                .findFirst()
                .ifPresent(left::remove));
    return found.size() == read.size() && left.isEmpty();
  }

  private static boolean near(double a, double b) {
    return Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
  }

  /** Writes a copy under a free name. */
  private Path copy() {
    for (int i = 1; ; i++) {
      Path copy = bench.resolveSibling(bench.getFileName() + ".before" + (i == 1 ? "" : "-" + i));
      try {
        return Files.copy(bench, copy);
      } catch (FileAlreadyExistsException e) {
        // An earlier copy stays; the next name is tried.
      } catch (IOException e) {
        throw AtomicFile.unwritten(copy, "--bench", e);
      }
    }
  }

  private static BadInputException refused(
      FilePlace place, String found, String expected, String remedy) {
    return new BadInputException(new InputFault(place, found, expected, remedy));
  }
}
