// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import millrace.analysis.response.PredictionCondition;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Predictions;
import millrace.assessment.Predictions.Answer;
import millrace.assessment.Predictions.Asked;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.LogbookOption;
import millrace.document.FileMessageText;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.logbook.Logbook;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.report.json.PredictJson;
import millrace.report.json.RunJson;
import millrace.report.table.PredictTable;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Predicts the current of a unit at any condition. */
@Command(
    name = "predict",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Predicts from a run the current of the unit at any temperature and load, with its"
          + " uncertainty and what contributes most to it.",
      "Outside of what was measured there is no value; it says which measurement would give one."
    },
    footer = {
      "",
      "Examples:",
      "  millrace predict 12 --range 1mA --temperature '31 degC' --load '3 kohm'",
      "  millrace predict 12 --temperature '31 degC' --voltage '3 V' --json",
      "  millrace predict 12 --at conditions.csv --json",
      "  millrace predict 12 --range 1mA --grid"
    })
public final class PredictCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "RUN", description = "The run, by number or UUID.")
  private String run = "";

  @Option(
      names = "--range",
      paramLabel = "R",
      description = "One range; without it all that were measured.")
  private Optional<String> range = Optional.empty();

  @Option(
      names = "--temperature",
      paramLabel = "T",
      description = "Temperature of the unit, as '31 degC'; without it the reference temperature.")
  private Optional<String> temperature = Optional.empty();

  @Option(
      names = "--load",
      paramLabel = "R",
      description =
          "Everything in series, as '3 kohm'; without load and voltage the reference load.")
  private Optional<String> load = Optional.empty();

  @Option(
      names = "--voltage",
      paramLabel = "V",
      description = "Voltage at the terminals, as '3 V'.")
  private Optional<String> voltage = Optional.empty();

  @Option(
      names = "--at",
      paramLabel = "F.csv",
      description = {
        "Many conditions, one a row: columns range, temperature_degC, and load_ohm or",
        "terminal_voltage_V; supply_V and time_s if wanted."
      })
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--grid",
      description = "A table over the conditions of the datasheet, or over what was measured.")
  private boolean grid;

  @Option(
      names = "--extrapolate",
      description =
          "Give values outside of what was measured, too: marked, with the uncertainty of the"
              + " extrapolation.")
  private boolean extrapolate;

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public PredictCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    refuseWhatDoesNotGoTogether();
    try (Logbook book = logbook.readOnly()) {
      Assessment assessment = Assessor.assess(book.reader(book.find(run).id()));
      Predictions predictions = new Predictions(assessment, extrapolate);
      List<Answer> answers = asked(predictions).stream().map(predictions::of).toList();
      if (json) {
        console.document(RunJson.text(PredictJson.of(assessment.run(), answers)));
      } else {
        show(assessment, answers);
      }
      boolean whole = answers.stream().allMatch(a -> a.prediction().value().isPresent());
      return (whole ? ExitCode.DONE : ExitCode.INCOMPLETE).number();
    }
  }

  private void refuseWhatDoesNotGoTogether() {
    refuse(load.isPresent() && voltage.isPresent(), "--load and --voltage: expected one of them.");
    boolean one = temperature.isPresent() || load.isPresent() || voltage.isPresent();
    refuse(
        file.isPresent() && (one || grid || range.isPresent()),
        "--at FILE names every condition; expected no --range, --temperature, --load, --voltage or"
            + " --grid beside it.");
    refuse(
        grid && one,
        "--grid goes over a box; expected no --temperature, --load or --voltage beside it.");
  }

  private void refuse(boolean wrong, String words) {
    if (wrong) {
      throw new CommandLine.ParameterException(spec.commandLine(), words);
    }
  }

  private List<Asked> asked(Predictions predictions) {
    if (file.isPresent()) {
      return PredictionConditionsFile.read(file.get(), predictions.ranges());
    }
    List<Asked> all = new ArrayList<>();
    for (String name : ranges(predictions)) {
      if (grid) {
        all.addAll(predictions.grid(name));
      } else {
        all.add(new Asked(name, condition(predictions, name)));
      }
    }
    return all;
  }

  private List<String> ranges(Predictions predictions) {
    List<String> known = predictions.ranges();
    refuse(
        range.isPresent() && !known.contains(range.get()),
        "--range '%s' was not measured in this run; expected %s. %s"
            .formatted(
                range.orElse(""),
                FileMessageText.oneOf(known),
                FileMessageText.didYouMean(range.orElse(""), known))
            .strip());
    return range.map(List::of).orElse(known);
  }

  private PredictionCondition condition(Predictions predictions, String name) {
    double degC =
        number(temperature, "--temperature", Dimension.TEMPERATURE)
            .orElse(predictions.referenceDegC());
    OptionalDouble ohm = number(load, "--load", Dimension.RESISTANCE);
    OptionalDouble volts = number(voltage, "--voltage", Dimension.VOLTAGE);
    refuse(ohm.isPresent() && ohm.getAsDouble() < 0, "--load is below 0; expected 0 ohm or more.");
    if (ohm.isEmpty() && volts.isEmpty()) {
      return predictions.usual(name, degC);
    }
    return ohm.isPresent()
        ? PredictionCondition.atLoad(degC, ohm.getAsDouble())
        : PredictionCondition.atVoltage(degC, volts.getAsDouble());
  }

  private static OptionalDouble number(Optional<String> text, String option, Dimension dimension) {
    try {
      return text.isPresent()
          ? OptionalDouble.of(QuantityText.parse(text.get(), dimension))
          : OptionalDouble.empty();
    } catch (QuantityException e) {
      throw new BadInputException(e.at(FilePlace.of(option)));
    }
  }

  private void show(Assessment assessment, List<Answer> answers) {
    if (assessment.run().start().origin() == RunOrigin.SIMULATED) {
      console.print("SIMULATED unit " + assessment.run().start().unit() + ":");
    }
    if (grid) {
      answers.stream()
          .map(a -> a.asked().range())
          .distinct()
          .forEach(
              name ->
                  console.table(
                      PredictTable.grid(
                          name,
                          answers.stream().filter(a -> a.asked().range().equals(name)).toList())));
      PredictTable.wanting(answers).forEach(console::print);
    } else if (file.isPresent()) {
      PredictTable.lines(answers).forEach(console::print);
    } else {
      answers.forEach(a -> PredictTable.inFull(a).forEach(console::print));
    }
    notes(assessment, answers).forEach(n -> console.print("Note: " + n + "."));
  }

  private static List<String> notes(Assessment assessment, List<Answer> answers) {
    return answers.stream()
        .map(a -> a.asked().range())
        .distinct()
        .flatMap(
            name ->
                assessment.response().range(name).stream()
                    .flatMap(r -> r.notes().stream())
                    .map(n -> "range " + name + ": " + n))
        .toList();
  }
}
