// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Stream;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.correction.UnitCorrectionConstants;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.IssuerOptions;
import millrace.cli.option.RunSourceOption;
import millrace.document.file.AtomicFile;
import millrace.document.file.LabSigningKey;
import millrace.evidence.Version;
import millrace.exchange.Export;
import millrace.exchange.Exported;
import millrace.exchange.dcc.CertificateSigningKey;
import millrace.exchange.tables.LinkedTables;
import millrace.exchange.tables.ParquetFolder;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.json.CorrectionConstantsJson;
import millrace.report.json.RunJson;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import millrace.watch.guard.KeyStoreFile;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/**
 * Writes the readings or the constants of a run, packs runs for a colleague, copies the logbook.
 */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = {
      "Writes a run as CSV that 'millrace import' takes: an imported run reading by reading, a run"
          + " of a bench point by point, with corrected currents and their uncertainty.",
      "With --tables: runs as tables that belong together, in a new folder: runs, instruments,"
          + " incidents, points, readings, results and components of uncertainty as CSV, and"
          + " datapackage.json, which tells statistics software their columns, keys and links.",
      "With --parquet: runs as columnar files for engines that read them by SQL, in a new folder:"
          + " runs, points, readings and results, by month and origin; simulated runs never share a"
          + " file with others. src/site/columns.md tells the columns.",
      "With --pack: runs with all their data in one sealed file, which 'millrace"
          + " import' takes into another logbook.",
      "With --constants: what the current of each range is corrected by (gain, temperature"
          + " polynomial, output conductance) with uncertainties, and what error is left then; a"
          + " later run proves it by 'millrace compare RUN LATER --constants'.",
      "With --backup: the whole logbook as it stands, also while a run is being written. A plain"
          + " copy of the file may miss what is not in it yet.",
      "With --dcc: the digital calibration certificate of a run (DCC 3.2, quantities by D-SI 2.1),"
          + " signed where --sign-with names a key. Not of simulated runs, nor of what does not fit"
          + " its digest and seal."
    },
    footer = {
      "",
      "Example:",
      "  millrace export 12 -o points.csv",
      "  millrace export 12 --constants > constants.csv",
      "  millrace export --batch B7 --tables b7-tables",
      "  millrace export --all --parquet all-runs",
      "  millrace export --batch B7 --pack b7.mlr",
      "  millrace export --backup millrace-tuesday.db",
      "  millrace export 12 --dcc -o fx3-0042.xml --customer 'Harbour Works, Osk'"
    })
public final class ExportCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(
      arity = "0..*",
      paramLabel = "RUN",
      description =
          "The run: its number, UUID or the beginning of it; several with --tables, --parquet and"
              + " --pack.")
  private List<String> runs = new ArrayList<>();

  @Option(
      names = "--tables",
      paramLabel = "FOLDER",
      description = "Write the runs as linked tables into this new folder.")
  private Optional<Path> tables = Optional.empty();

  @Option(
      names = "--parquet",
      paramLabel = "FOLDER",
      description = "Write the runs as Parquet files into this new folder.")
  private Optional<Path> parquet = Optional.empty();

  @Option(
      names = "--pack",
      paramLabel = "FILE",
      description = "Pack the runs whole into this new file.")
  private Optional<Path> pack = Optional.empty();

  @Option(
      names = "--sign",
      paramLabel = "KEY",
      description = "With --pack: sign its runs with the laboratory's private key, a PEM file.")
  private Optional<Path> sign = Optional.empty();

  @Option(
      names = "--batch",
      paramLabel = "NAME",
      description = "With --tables, --parquet or --pack: every run of this batch that ended.")
  private Optional<String> batch = Optional.empty();

  @Option(
      names = "--all",
      description = "With --tables, --parquet or --pack: every run that ended.")
  private boolean all;

  @Option(
      names = "--backup",
      paramLabel = "FILE",
      description = "Copy the whole logbook into this new file.")
  private Optional<Path> backup = Optional.empty();

  @Option(names = "--constants", description = "Write the constants of the unit instead.")
  private boolean constants;

  @Option(names = "--json", description = "With --constants: JSON instead of CSV.")
  private boolean json;

  @Option(
      names = "--dcc",
      description = "Write the digital certificate of the run; wants -o F.xml.")
  private boolean dcc;

  @Option(
      names = "--sign-with",
      paramLabel = "FILE",
      description =
          "With --dcc: sign with the key of this PKCS#12 key store, whose password stands in the"
              + " environment as "
              + KeyStoreFile.PASSWORD
              + ".")
  private Optional<Path> signWith = Optional.empty();

  @Mixin private IssuerOptions issuer = new IssuerOptions();

  @Option(
      names = {"-o", "--output"},
      paramLabel = "FILE",
      description = "The file to write; default standard output.")
  private @Nullable Path output;

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public ExportCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    refuseWhatGoesWithCertificatesOnly();
    refuse(backup.isPresent() && beside(), "--backup takes the whole logbook; say nothing else");
    boolean several = several();
    refuse(
        !several && backup.isEmpty() && runs.size() != 1,
        "expected one RUN, --tables FOLDER, --parquet FOLDER, --pack FILE or --backup FILE");
    refuse(
        Stream.of(pack, tables, parquet).filter(Optional::isPresent).count() > 1,
        "--tables, --parquet and --pack write apart; say one of them");
    refuse(
        several && (output != null || constants),
        "--tables, --parquet and --pack name what they write; expected neither -o nor"
            + " --constants");
    refuse(json && !constants, "--json goes with --constants");
    refuse(
        source.store().isPresent() && (pack.isPresent() || backup.isPresent()),
        "--pack and --backup take a logbook, not a store; expected no --from");
    refuse(sign.isPresent() && pack.isEmpty(), "--sign goes with --pack");
    Optional<LabSigningKey.Signing> key = sign.map(LabSigningKey::signing);
    refuse(several && runs.isEmpty() && batch.isEmpty() && !all, "missing: RUN, --batch or --all");
    refuse(!several && batch.isPresent(), "--batch goes with --tables, --parquet or --pack");
    refuse(!several && all, "--all goes with --tables, --parquet or --pack");
    refuse(
        all && (batch.isPresent() || !runs.isEmpty()),
        "--all takes every run; expected neither RUN nor --batch");
    try (Logbook open = source.readOnly()) {
      if (backup.isPresent()) {
        return copied(open, backup.get());
      } else if (pack.isPresent()) {
        return packed(open, pack.get(), key);
      } else if (tables.isPresent()) {
        return linked(open, tables.get());
      } else if (parquet.isPresent()) {
        return columnar(open, parquet.get());
      }
      RunReader reader = open.reader(open.find(runs.get(0)).id());
      if (dcc) {
        return certified(open, reader);
      }
      if (output == null) {
        toConsole(reader).ifPresent(done -> tell(done, reader, "standard output"));
      } else {
        tell(toFile(reader, output), reader, output.toString());
      }
      return ExitCode.DONE.number();
    }
  }

  private void refuseWhatGoesWithCertificatesOnly() {
    refuse(
        dcc && (several() || constants),
        "--dcc goes with none of --pack, --tables, --parquet, --constants");
    refuse(dcc && output == null, "--dcc wants a file; expected -o F.xml");
    refuse(signWith.isPresent() && !dcc, "--sign-with goes with --dcc");
    refuse(
        issuer.replacesUnderTheSameNumber(),
        "--replaces without a --number of its own; expected one for the new one");
    if (!dcc) {
      issuer.any().ifPresent(given -> refuse(true, given + " goes with --dcc"));
    }
  }

  private int certified(Logbook book, RunReader reader) {
    String password = System.getenv().getOrDefault(KeyStoreFile.PASSWORD, "");
    Optional<CertificateSigningKey> key =
        signWith.map(
            f -> CertificateSigningKey.open("--sign-with", f, password, KeyStoreFile.PASSWORD));
    Path file = Objects.requireNonNull(output);
    String number = DigitalCertificateExport.write(book, reader, issuer, key, file);
    console.error(
        "Wrote certificate %s to %s, %s."
            .formatted(
                number,
                file,
                key.isPresent() ? "signed" : "without a signature: --sign-with signs it"));
    return ExitCode.DONE.number();
  }

  private void tell(Exported exported, RunReader reader, String where) {
    console.error(
        "Exported %s %s of run %s to %s."
            .formatted(
                exported.rows(),
                json ? "ranges" : constants ? "constants" : "rows",
                reader.summary().id(),
                where));
    exported.notes().forEach(note -> console.error("millrace: " + note));
  }

  private void refuse(boolean wrong, String words) {
    if (wrong) {
      throw new CommandLine.ParameterException(spec.commandLine(), words);
    }
  }

  private boolean several() {
    return pack.isPresent() || tables.isPresent() || parquet.isPresent();
  }

  private boolean beside() {
    boolean chosen = dcc || several() || all || batch.isPresent() || constants || output != null;
    return chosen || !runs.isEmpty();
  }

  private int copied(Logbook book, Path target) {
    book.backup(target);
    console.error(
        "Copied %s with %s runs to %s."
            .formatted(book.name(), book.runs(RunFilter.ALL).size(), target));
    return ExitCode.DONE.number();
  }

  private int linked(Logbook book, Path folder) {
    List<RunSummary> once = asked(book);
    return told(LinkedTables.write(book, once, folder), once, folder);
  }

  private int columnar(Logbook book, Path folder) {
    List<RunSummary> once = asked(book);
    return told(ParquetFolder.write(book, once, folder), once, folder);
  }

  private int told(Exported exported, List<RunSummary> once, Path folder) {
    console.error(
        "Exported %s of %s to %s."
            .formatted(
                NumberText.counted(exported.rows(), "row"),
                NumberText.counted(once.size(), "run"),
                folder));
    exported.notes().forEach(note -> console.error("millrace: " + note));
    return ExitCode.DONE.number();
  }

  private List<RunSummary> asked(Logbook book) {
    List<RunSummary> asked = new ArrayList<>(runs.stream().map(book::find).toList());
    if (all || batch.isPresent()) {
      RunFilter filter = RunFilter.ALL.ofBatch(batch);
      book.runs(filter).stream().filter(r -> r.digest().isPresent()).forEach(asked::add);
    }
    List<RunSummary> once = asked.stream().distinct().toList();
    if (once.isEmpty()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(all ? "--all" : "--batch"),
              all
                  ? "no run has ended"
                  : "no run of batch '%s' has ended".formatted(batch.orElse("")),
              all ? "a logbook with runs that ended" : "a batch with runs that ended",
              "'millrace runs' lists what there is."));
    }
    return once;
  }

  private int packed(Logbook book, Path target, Optional<LabSigningKey.Signing> key) {
    List<RunSummary> once = asked(book);
    String seal = book.pack(once, target, key, new SystemClock().now());
    console.error("Packed %s into %s.".formatted(NumberText.counted(once.size(), "run"), target));
    console.print("seal " + seal);
    console.error(
        key.isPresent()
            ? "Signed: 'millrace import %s --key' with the public key checks it.".formatted(target)
            : "The seal tells of a change only to whoever has it from elsewhere; --sign proves"
                + " where the pack comes from.");
    return ExitCode.DONE.number();
  }

  private Exported write(RunReader reader, Writer out) throws IOException {
    Exported exported = constants ? constants(reader, out) : Export.readings(reader, out);
    out.flush();
    return exported;
  }

  private Exported constants(RunReader reader, Writer out) throws IOException {
    Assessment assessment = Assessor.assess(reader);
    if (!json) {
      return Export.constants(assessment, out);
    }
    UnitCorrectionConstants corrections = UnitCorrectionConstants.of(assessment);
    ObjectNode document = CorrectionConstantsJson.of(assessment, corrections, Version.CURRENT);
    out.write(RunJson.text(document) + "\n");
    return new Exported(corrections.ranges().size(), List.of());
  }

  /** Empty without output: the reader left, or the command reports the reason at its end. */
  private Optional<Exported> toConsole(RunReader reader) {
    try {
      return Optional.of(
          write(
              reader,
              new BufferedWriter(
                  new OutputStreamWriter(console.checked(), StandardCharsets.UTF_8))));
    } catch (IOException | UncheckedIOException e) {
      return Optional.empty();
    }
  }

  private Exported toFile(RunReader reader, Path path) {
    AtomicReference<Exported> exported = new AtomicReference<>();
    AtomicFile.write(path, "-o", out -> exported.set(write(reader, out)));
    return exported.get();
  }
}
