// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.util.concurrent.Callable;
import millrace.bench.BenchForms;
import millrace.bench.driver.DriverForms;
import millrace.cli.exit.ExitCode;
import millrace.datasheet.DatasheetFile;
import millrace.document.form.JsonSchema;
import millrace.laboratory.LaboratoryFile;
import millrace.report.json.OutputJsonSchema;
import millrace.sequence.SequenceForms;
import millrace.sim.fault.FaultPlanFile;
import millrace.terminal.Console;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Prints the JSON Schema of a kind of file, or of the output of a command. */
@Command(
    name = "schema",
    mixinStandardHelpOptions = true,
    description = {
      "Prints a JSON Schema (draft 2020-12): of sequence, datasheet, bench, driver, laboratory or"
          + " fault files, of the results that 'analyze --json' prints, or of what 'predict --json'"
          + " does.",
      "Most editors complete and check a YAML file by its schema while you type."
    },
    footer = {"", "Example:", "  millrace schema sequence > sequence.schema.json"})
public final class SchemaCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "NAME", description = "${COMPLETION-CANDIDATES}")
  private Kind kind;

  /** The kinds with a schema. */
  public enum Kind {
    sequence,
    datasheet,
    bench,
    driver,
    laboratory,
    faults,
    results,
    predictions
  }

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public SchemaCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    console.document(schema(kind));
    return ExitCode.DONE.number();
  }

  /**
   * A schema as text.
   *
   * @param kind the kind of file or document
   * @return a JSON document
   */
  public static String schema(Kind kind) {
    return switch (kind) {
      case sequence -> JsonSchema.print("Millrace sequence", SequenceForms.SEQUENCE);
      case datasheet -> JsonSchema.print("Millrace datasheet", DatasheetFile.FORM);
      case bench -> JsonSchema.print("Millrace bench", BenchForms.BENCH);
      case driver -> JsonSchema.print("Millrace driver", DriverForms.DRIVER);
      case laboratory -> JsonSchema.print("Millrace laboratory", LaboratoryFile.FORM);
      case faults -> JsonSchema.print("Millrace faults of a simulated bench", FaultPlanFile.FORM);
      case results -> OutputJsonSchema.RESULTS.text();
      case predictions -> OutputJsonSchema.PREDICTIONS.text();
    };
  }
}
