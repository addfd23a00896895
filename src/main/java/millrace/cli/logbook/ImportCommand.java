// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import millrace.cli.exit.ExitCode;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.document.FileMessageText;
import millrace.document.RegexFromFile;
import millrace.document.file.LabSigningKey;
import millrace.document.yaml.YamlFile;
import millrace.evidence.Version;
import millrace.exchange.Import;
import millrace.exchange.ImportedRun;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.logbook.UnpackedRuns;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Imports readings taken elsewhere, or packed runs, into the logbook. */
@Command(
    name = "import",
    mixinStandardHelpOptions = true,
    description = {
      "Takes readings that were taken elsewhere into the logbook, one run a unit.",
      "The file is CSV in UTF-8 with a header. Needed columns: range, nominal_A, current_A."
          + " Optional: unit, temperature_degC, load_ohm (everything in series),"
          + " terminal_voltage_V, time_s or taken_at (with offset), supply_V, set_A, direction (up,"
          + " down), slot, point, meter_range; batch, tag, operator, bench (the same for all of a"
          + " unit); and standard uncertainties: u_current_A with u_distribution (normal, t,"
          + " rectangular, triangular, arc sine) and u_degrees_of_freedom,"
          + " u_common_A, u_common_relative (common within common_group, or the range),"
          + " u_terminal_voltage_V, u_temperature_degC. Other columns are kept, and"
          + " named. A column that is empty in every row is as if it were not there.",
      "A row is a reading; consecutive rows under equal conditions are one point. If anything is"
          + " wrong with the file, nothing is imported.",
      "A file that 'millrace export --pack' wrote comes in as it is: runs that are there already"
          + " are not doubled, and a change since it was packed is noticed."
    },
    footer = {
      "",
      "Example:",
      "  millrace import night.csv --datasheet BX5.yaml",
      "  millrace analyze $(millrace import night.csv --quiet)",
      "  millrace import b7.mlr"
    })
public final class ImportCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "F", description = "The readings as CSV, or a pack.")
  private Path readings = Path.of("");

  @Option(
      names = "--datasheet",
      paramLabel = "F",
      description = "Where limits and reference temperature come from.")
  private @Nullable Path datasheet;

  @Option(
      names = "--logbook",
      paramLabel = "F",
      description = "The logbook; default ${DEFAULT-VALUE}. It is made if it is not there.")
  private Path logbook = Path.of("millrace.db");

  @Option(
      names = "--key",
      paramLabel = "FILE",
      description = "The laboratory's public key, which must have signed the pack as it is.")
  private Optional<Path> key = Optional.empty();

  @Option(
      names = "--batch",
      paramLabel = "NAME",
      description = "The batch of the units, where no column says.")
  private @Nullable String batch;

  @Option(
      names = "--tag",
      paramLabel = "NAME",
      description = "A word to find the runs by, where no column says.")
  private @Nullable String tag;

  @Option(
      names = "--operator",
      paramLabel = "NAME",
      description = "Who measured, where no column says.")
  private @Nullable String operator;

  @Option(
      names = "--bench",
      paramLabel = "NAME",
      description = "The bench that was measured on, where no column says.")
  private @Nullable String bench;

  @Option(names = "--quiet", description = "Print the new run numbers alone, one a line.")
  private boolean quiet;

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public ImportCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    if (Logbook.isPack(readings)) {
      return taken().number();
    }
    if (key.isPresent()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(readings.toString()),
              "this is no pack, so nobody signed it",
              "a file that 'millrace export --pack' wrote",
              "Leave --key out."));
    }
    Import checked = Import.check(readings);
    Optional<Import.Attached> sheet = Optional.ofNullable(datasheet).map(ImportCommand::attached);
    Map<String, List<String>> cautions =
        sheet
            .map(s -> cautions(checked, DatasheetFile.read(s.name(), s.content())))
            .orElse(Map.of());
    Instant now = new SystemClock().now();
    Import.Circumstances with =
        new Import.Circumstances(
            sheet,
            new RunStart.People(
                Optional.ofNullable(operator),
                Optional.ofNullable(batch),
                Optional.ofNullable(tag)),
            Optional.ofNullable(bench),
            cautions,
            Version.CURRENT,
            now,
            ZoneId.systemDefault().getRules().getOffset(now));
    try (Logbook open = Logbook.openOrCreate(logbook)) {
      print(checked.into(open, with));
    }
    return ExitCode.DONE.number();
  }

  private ExitCode taken() {
    if (datasheet != null) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(readings.toString()),
              "a pack keeps the datasheets of its runs",
              "no --datasheet",
              "Judge by another afterwards: 'millrace analyze RUN --datasheet F'."));
    }
    if (!Files.exists(logbook)) {
      Logbook.checkPack(readings);
    }
    key.map(LabSigningKey::checking)
        .ifPresent(laboratory -> Logbook.checkSigned(readings, laboratory));
    try (Logbook open = Logbook.openOrCreate(logbook)) {
      UnpackedRuns taken = open.take(readings);
      taken.runs().forEach(this::print);
      console.error("seal " + taken.seal());
    }
    return ExitCode.DONE;
  }

  private void print(UnpackedRuns.Run run) {
    String more = run.more() ? ", with judgings or remarks that are new here" : "";
    if (!quiet) {
      console.print(
          run.fresh()
              ? "Took run %s of unit %s as run %s.".formatted(run.uuid(), run.unit(), run.id())
              : "Run %s of unit %s is there already as run %s%s."
                  .formatted(run.uuid(), run.unit(), run.id(), more));
    } else if (run.fresh()) {
      console.print(Long.toString(run.id()));
    }
  }

  private static Import.Attached attached(Path path) {
    return new Import.Attached(path.toString(), YamlFile.bytes(path));
  }

  private static Map<String, List<String>> cautions(Import checked, Datasheet sheet) {
    return checked.units().stream()
        .collect(
            Collectors.toMap(unit -> unit, unit -> cautions(unit, checked.nominalsA(unit), sheet)));
  }

  private static List<String> cautions(
      String unit, Map<String, Double> nominalsA, Datasheet sheet) {
    List<String> cautions = new ArrayList<>();
    if (sheet.serial().isPresent() && !sheet.serial().get().matcher(unit).matches()) {
      cautions.add(
          "%s is no serial number of %s, which look like %s"
              .formatted(
                  FileMessageText.quoted(unit),
                  sheet.name(),
                  RegexFromFile.shown(sheet.serial().get())));
    }
    nominalsA.entrySet().stream()
        .flatMap(range -> caution(range, sheet).stream())
        .forEach(cautions::add);
    return cautions;
  }

  private static Optional<String> caution(Map.Entry<String, Double> range, Datasheet sheet) {
    Optional<Datasheet.Range> promised = sheet.range(range.getKey());
    if (promised.isEmpty()) {
      return Optional.of(
          "the datasheet has no range %s, so no limit holds for it. %s"
              .formatted(
                  FileMessageText.quoted(range.getKey()),
                  FileMessageText.didYouMean(range.getKey(), sheet.ranges().keySet()))
              .strip());
    }
    double nominal = promised.get().nominalA();
    return nominal == range.getValue()
        ? Optional.empty()
        : Optional.of(
            "range %s has a nominal current of %s in the readings and of %s in the datasheet"
                .formatted(
                    FileMessageText.quoted(range.getKey()),
                    QuantityText.print(range.getValue(), Dimension.CURRENT),
                    QuantityText.print(nominal, Dimension.CURRENT)));
  }

  private void print(List<ImportedRun> runs) {
    Map<String, List<Long>> noted = new LinkedHashMap<>();
    for (ImportedRun run : runs) {
      print(run);
      run.notes().forEach(n -> noted.computeIfAbsent(n, note -> new ArrayList<>()).add(run.run()));
    }
    noted.forEach((note, of) -> console.error("millrace: %s: %s".formatted(named(of), note)));
  }

  /** A note that many units share is said once. */
  private static String named(List<Long> runs) {
    return runs.size() == 1
        ? "run " + runs.get(0)
        : "%s runs from %s to %s".formatted(runs.size(), runs.get(0), runs.get(runs.size() - 1));
  }

  private void print(ImportedRun run) {
    if (quiet) {
      console.print(String.valueOf(run.run()));
    } else {
      console.print(
          "Imported %s at %s%s as run %s of unit %s into %s."
              .formatted(
                  NumberText.counted(run.readings(), "reading"),
                  NumberText.counted(run.points(), "point"),
                  run.flagged() == 0 ? "" : ", " + run.flagged() + " of them flagged,",
                  run.run(),
                  FileMessageText.quoted(run.unit()),
                  logbook));
    }
  }
}
