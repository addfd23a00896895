package millrace.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import millrace.assessment.Assessor;
import millrace.exchange.Export;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the readings or the constants of a run as CSV. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = {
      "Writes a run as CSV that 'millrace import' takes: an imported run reading by reading, a run"
          + " of a bench point by point, with corrected currents and their uncertainty.",
      "With --constants: the current, output conductance and temperature coefficients of each"
          + " range, with their uncertainty."
    },
    footer = {
      "",
      "Example:",
      "  millrace export 12 -o points.csv",
      "  millrace export 12 --constants > constants.csv"
    })
final class ExportCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "RUN", description = "The run: its number, UUID or the beginning of it.")
  private String run = "";

  @Option(names = "--constants", description = "Write the constants of the unit instead.")
  private boolean constants;

  @Option(
      names = {"-o", "--output"},
      paramLabel = "F.csv",
      description = "Where to; default standard output.")
  private @Nullable Path output;

  @Option(
      names = "--logbook",
      paramLabel = "F",
      description = "The logbook; default ${DEFAULT-VALUE}.")
  private Path logbook = Path.of("millrace.db");

  ExportCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook open = Logbook.readOnly(logbook)) {
      RunReader reader = open.reader(open.find(run).id());
      Export.Exported exported = output == null ? toConsole(reader) : toFile(reader, output);
      String where = output == null ? "standard output" : output.toString();
      console.error(
          "Exported %d %s of run %d to %s."
              .formatted(
                  exported.rows(), constants ? "constants" : "rows", reader.summary().id(), where));
      exported.notes().forEach(note -> console.error("millrace: " + note));
      return ExitCode.DONE.number();
    }
  }

  private Export.Exported write(RunReader reader, Writer out) throws IOException {
    Export.Exported exported =
        constants ? Export.constants(Assessor.assess(reader), out) : Export.readings(reader, out);
    out.flush();
    return exported;
  }

  private Export.Exported toConsole(RunReader reader) {
    try {
      return write(
          reader,
          new BufferedWriter(new OutputStreamWriter(console.out(), StandardCharsets.UTF_8)));
    } catch (IOException e) {
      throw unwritable("standard output", e);
    }
  }

  private Export.Exported toFile(RunReader reader, Path path) {
    try (Writer out = Files.newBufferedWriter(path, StandardCharsets.UTF_8)) {
      return write(reader, out);
    } catch (IOException e) {
      throw unwritable(path.toString(), e);
    }
  }

  private static BadInputException unwritable(String where, IOException e) {
    return new BadInputException(
        new Fault(
            Place.of(where),
            "it cannot be written: " + e.getMessage(),
            "a file in a folder where you may write",
            "Choose another with -o."));
  }
}
