// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import com.google.re2j.Pattern;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
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
      YamlForms.where(
          YamlForms.quantity(Dimension.VOLTAGE), v -> v >= 0, "a voltage of 0 V or more");
  private static final Pattern UUID_TEXT =
      Pattern.compile("[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}");
  private static final YamlForm<UUID> TYPE_RUN =
      YamlForms.map(
          YamlForms.where(
              YamlForms.text("the UUID of a run"),
              UUID_TEXT::matches,
              "a UUID, as 'runs' and 'show' print it"),
          UUID::fromString);
  private static final YamlForm<Datasheet.Overdue> OVERDUE =
      YamlForms.choice(Datasheet.Overdue.values(), Datasheet.Overdue::text);
  private static final Datasheet.Compliance NO_PROMISE =
      new Datasheet.Compliance(Optional.empty(), 1e-3, Datasheet.Reference.LINE);

  /** How a datasheet is written. */
  public static final YamlForm<Datasheet> FORM = form();

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

  private static YamlForm<Datasheet> form() {
    YamlMapForm.Builder map = YamlMapForm.of("a datasheet");
    Key<String> name =
        map.required("datasheet", YamlForms.text("a name"), "what the kind is called");
    Key<Optional<Pattern>> serial =
        map.optional("serial", YamlForms.pattern(), "what serial numbers look like");
    Key<Double> reference = reference(map);
    Key<Optional<Double>> openCircuit =
        map.optional("open-circuit voltage", VOLT, "at open terminals");
    Key<Optional<Duration>> lag =
        map.optional("thermal time constant", YamlForms.span(), "of the unit in still air");
    Key<Optional<Duration>> warmUp =
        map.optional("warm-up", YamlForms.span(), "from power-on until what is promised holds");
    Key<Datasheet.Compliance> compliance =
        map.optional(
            "compliance", compliance(), NO_PROMISE, "promised, with its criterion; default 0.1 %");
    Key<DecisionRule> decision =
        map.optional("decision", decision(), DecisionRule.SIMPLE, "decision rule; default simple");
    Key<Double> coverage =
        map.optional(
            "coverage",
            COVERAGE,
            Datasheet.DEFAULT_COVERAGE,
            "probability of intervals; default 95.45 %");
    Key<Optional<UUID>> typeRun = typeRun(map);
    Key<Datasheet.Overdue> overdue = overdue(map);
    Key<Integer> retests =
        map.optional("retests", YamlForms.count(0, 100), 1, "retests allowed per unit; default 1");
    Key<Boolean> strict =
        map.optional("conditional pass counts as fail", YamlForms.yesNo(), false, "default no");
    Key<Map<String, DatasheetPart>> parts =
        map.optional(
            "parts", YamlForms.named("names of parts", PartForms.PART), Map.of(), "its parts");
    Key<Map<String, Datasheet.Range>> ranges =
        map.required("ranges", RangeForms.RANGES, "its ranges by name");
    Key<List<DatasheetLimit>> limits =
        map.optional("limits", YamlForms.list(LimitForms.LIMIT, 0), List.of(), "what is promised");
    Key<List<Datasheet.Bin>> bins =
        map.optional("bins", LimitForms.BINS, List.of(), "how passing units are sorted");
    return map.reads(
        v ->
            new Datasheet(
                v.get(name),
                v.get(serial),
                v.get(reference),
                v.get(openCircuit),
                v.get(lag),
                v.get(warmUp),
                v.get(compliance),
                v.get(decision),
                v.get(coverage),
                v.get(typeRun),
                v.get(overdue),
                v.get(retests),
                v.get(strict),
                v.get(parts),
                v.get(ranges),
                v.get(limits),
                v.get(bins)));
  }

  private static Key<Optional<UUID>> typeRun(YamlMapForm.Builder map) {
    return map.optional(
        "type run",
        TYPE_RUN,
        "UUID of the run of this type whose temperature coefficients stand in for what a run does"
            + " not measure");
  }

  private static Key<Datasheet.Overdue> overdue(YamlMapForm.Builder map) {
    return map.optional(
        "overdue instruments", OVERDUE, Datasheet.Overdue.WARN, "warn or refuse; default warn");
  }

  private static Key<Double> reference(YamlMapForm.Builder map) {
    return map.optional(
        "reference temperature",
        YamlForms.quantity(Dimension.TEMPERATURE),
        Datasheet.DEFAULT_REFERENCE_DEGC,
        "T_ref; default 23 degC");
  }

  private static YamlForm<Datasheet.Compliance> compliance() {
    YamlMapForm.Builder map = YamlMapForm.of("a compliance statement");
    Key<Optional<Double>> voltage = map.optional("voltage", VOLT, "up to which the current holds");
    Key<Double> criterion =
        map.optional(
            "criterion",
            YamlForms.quantity(Dimension.RATIO),
            1e-3,
            "fall that counts; default 0.1 %");
    Key<Datasheet.Reference> reference =
        map.optional(
            "relative to",
            YamlForms.choice(Datasheet.Reference.values(), Datasheet.Reference::text),
            Datasheet.Reference.LINE,
            "line or short; default line");
    return map.reads(
        v -> new Datasheet.Compliance(v.get(voltage), v.get(criterion), v.get(reference)));
  }

  private static YamlForm<DecisionRule> decision() {
    YamlMapForm.Builder map = YamlMapForm.of("a decision rule");
    Key<DecisionRule.Kind> rule =
        map.required(
            "rule",
            YamlForms.choice(DecisionRule.Kind.values(), DecisionRule.Kind::text),
            "simple, guarded, or guarded four outcomes");
    Key<Optional<Double>> r =
        map.optional(
            "r", YamlForms.quantity(Dimension.NUMBER), "guard band in units of U; default 1");
    return map.reads(
        v ->
            new DecisionRule(
                v.get(rule), v.get(rule) == DecisionRule.Kind.SIMPLE ? 0 : v.get(r).orElse(1.0)));
  }
}
