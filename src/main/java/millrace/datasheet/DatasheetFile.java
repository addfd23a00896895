// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import com.google.re2j.Pattern;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.document.yaml.YamlFile;
import millrace.evidence.DecisionRule;
import millrace.fault.InputFaultList;
import millrace.quantity.Dimension;

/** Reads datasheet files. */
public final class DatasheetFile {
  private DatasheetFile() {}

  private static final YamlForm<Double> COVERAGE =
      YamlForms.where(
          YamlForms.quantity(Dimension.RATIO), p -> p > 0.5 && p < 1, "above 50 % and below 100 %");
  private static final YamlForm<Double> VOLT =
      YamlForms.from0(Dimension.VOLTAGE, "a voltage of 0 V or more");
  private static final Pattern UUID_TEXT =
      Pattern.compile("[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}");
  private static final YamlForm<UUID> TYPE_RUN =
      YamlForms.map(
          YamlForms.where(
              YamlForms.text("the UUID of a run"),
              UUID_TEXT::matches,
              "a UUID, as 'runs' and 'show' print it"),
          UUID::fromString);
  private static final Datasheet.Compliance NO_PROMISE =
      new Datasheet.Compliance(Optional.empty(), 1e-3, Datasheet.Reference.LINE);

  private static final YamlForm<Datasheet.Compliance> COMPLIANCE =
      YamlMapForm.of("a compliance statement", DatasheetFile::compliance);
  private static final YamlForm<DecisionRule> DECISION =
      YamlMapForm.of("a decision rule", DatasheetFile::decision);

  /** The form of a datasheet. */
  public static final YamlForm<Datasheet> FORM =
      YamlMapForm.of("a datasheet", DatasheetFile::datasheet);

  /**
   * Reads a file from disk.
   *
   * @param path the file
   * @return the datasheet
   * @throws millrace.fault.BadInputException with every fault found
   */
  public static Datasheet read(Path path) {
    return read(path.toString(), YamlFile.bytes(path));
  }

  /**
   * Reads bytes.
   *
   * @param file the name for messages
   * @param bytes what the file holds
   * @return the datasheet
   * @throws millrace.fault.BadInputException with every fault found
   */
  public static Datasheet read(String file, byte[] bytes) {
    Datasheet datasheet = FORM.readFile(file, bytes);
    InputFaultList faults = new InputFaultList();
    DatasheetCrossReferences.check(datasheet, file, faults);
    faults.throwIfAny();
    return datasheet;
  }

  private static Datasheet datasheet(YamlKeys map) {
    return new Datasheet(
        map.required("datasheet", YamlForms.text("a name"), "what the kind is called"),
        map.optional("serial", YamlForms.pattern(), "what serial numbers look like"),
        map.optional(
            "reference temperature",
            Dimension.TEMPERATURE,
            Datasheet.DEFAULT_REFERENCE_DEGC,
            "T_ref; default 23 degC"),
        map.optional("open-circuit voltage", VOLT, "at open terminals"),
        map.optional("thermal time constant", YamlForms.span(), "of the unit in still air"),
        map.optional("warm-up", YamlForms.span(), "from power-on until what is promised holds"),
        map.optional(
            "compliance", COMPLIANCE, NO_PROMISE, "promised, with its criterion; default 0.1 %"),
        map.optional("decision", DECISION, DecisionRule.SIMPLE, "decision rule; default simple"),
        map.optional(
            "coverage",
            COVERAGE,
            Datasheet.DEFAULT_COVERAGE,
            "probability of intervals; default 95.45 %"),
        map.optional(
            "type run",
            TYPE_RUN,
            "UUID of the run of this type whose temperature coefficients stand in for what a run"
                + " does not measure"),
        map.optional(
            "overdue instruments",
            YamlForms.choice(Datasheet.Overdue.values(), Datasheet.Overdue::text),
            Datasheet.Overdue.WARN,
            "warn or refuse; default warn"),
        map.optional(
            "recalibrate",
            YamlForms.map(
                YamlForms.text("an interval of the calendar"), RecalibrationInterval::parse),
            "after how long a unit is to be calibrated again, such as 12 months"),
        map.optional("retests", YamlForms.count(0, 100), 1, "retests allowed per unit; default 1"),
        map.optional("conditional pass counts as fail", YamlForms.yesNo(), false, "default no"),
        map.optional(
            "parts", YamlForms.named("names of parts", PartForms.PART), Map.of(), "its parts"),
        map.required("ranges", RangeForms.RANGES, "its ranges by name"),
        map.optional("limits", YamlForms.list(LimitForms.LIMIT, 0), List.of(), "what is promised"),
        map.optional("bins", LimitForms.BINS, List.of(), "how passing units are sorted"));
  }

  private static Datasheet.Compliance compliance(YamlKeys map) {
    return new Datasheet.Compliance(
        map.optional("voltage", VOLT, "up to which the current holds"),
        map.optional("criterion", Dimension.RATIO, 1e-3, "fall that counts; default 0.1 %"),
        map.optional(
            "relative to",
            YamlForms.choice(Datasheet.Reference.values(), Datasheet.Reference::text),
            Datasheet.Reference.LINE,
            "line or short; default line"));
  }

  private static DecisionRule decision(YamlKeys map) {
    DecisionRule.Kind rule =
        map.required(
            "rule",
            YamlForms.choice(DecisionRule.Kind.values(), DecisionRule.Kind::text),
            "simple, guarded, or guarded four outcomes");
    double r = map.optional("r", Dimension.NUMBER, 1.0, "guard band in units of U; default 1");
    return new DecisionRule(rule, rule == DecisionRule.Kind.SIMPLE ? 0 : r);
  }
}
