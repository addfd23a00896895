// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.document.yaml.YamlFile;
import millrace.quantity.Dimension;
import millrace.quantity.TimeSpanSeconds;
import millrace.time.Seeds;

/**
 * How faults of a simulated bench are written:
 *
 * <pre>
 * faults:
 *   - {kind: silence, on: ammeter, question: 12}
 *   - {kind: late reply, on: voltmeter, after: 20 min, pause: 3 s, times: 2}
 *   - {kind: sensor offset, on: thermometer, after: 2 h, by: 1.5 K, lasting: 30 min}
 * drawn: {count: 5, within: 8 h, seed: 7}
 * </pre>
 */
public final class FaultPlanFile {
  private static final YamlForm<Double> SECONDS = YamlForms.from0(Dimension.TIME, "0 s or more");
  private static final YamlForm<Duration> SPAN = YamlForms.map(SECONDS, TimeSpanSeconds::ofSeconds);

  /** A file of faults. */
  public static final YamlForm<FaultPlan> FORM =
      YamlMapForm.of("a file of faults", FaultPlanFile::plan);

  private FaultPlanFile() {}

  /**
   * Reads a file.
   *
   * @param path the file
   * @return the plan
   * @throws millrace.fault.BadInputException with every fault found in it
   */
  public static FaultPlan read(Path path) {
    return FORM.readFile(path.toString(), YamlFile.bytes(path));
  }

  private static FaultPlan plan(YamlKeys map) {
    return new FaultPlan(
            map.optional(
                "faults", YamlForms.list(fault(), 1), List.of(), "what goes wrong, and when"))
        .and(
            map.optional(
                "drawn",
                YamlMapForm.of("faults to draw", FaultPlanFile::drawn),
                FaultPlan.NONE,
                "faults at random times on random instruments"));
  }

  private static FaultPlan drawn(YamlKeys map) {
    int count = map.required("count", YamlForms.count(0, 1000), "how many");
    Duration within = map.required("within", SPAN, "until when of the bench's clock");
    Seeds seeds =
        new Seeds(
            map.optional(
                "seed", YamlForms.count(0, Integer.MAX_VALUE), 1, "what they are drawn with"));
    YamlForm<SimFault.Kind> kind = YamlForms.choice(SimFault.Kind.values(), SimFault.Kind::text);
    List<SimFault.Kind> kinds =
        map.optional(
            "kinds", YamlForms.list(kind, 1), List.of(SimFault.Kind.values()), "of these only");
    return FaultPlan.drawn(new FaultPlan.Lot(count, within, kinds), seeds);
  }

  private static YamlForm<SimFault> fault() {
    Map<String, YamlForm<? extends SimFault>> kinds = new LinkedHashMap<>();
    for (SimFault.Kind kind : SimFault.Kind.values()) {
      YamlForm<SimFault> form = YamlMapForm.of("a fault", map -> fault(kind, map));
      kinds.put(kind.text(), form);
    }
    return YamlForms.byWord("a fault", "kind", kinds);
  }

  private static SimFault fault(SimFault.Kind kind, YamlKeys map) {
    map.required("kind", YamlForms.choice(Map.of(kind.text(), kind)), "what goes wrong");
    return kind.befallsBench() ? onBench(kind, map) : onLink(kind, map);
  }

  private static SimFault onBench(SimFault.Kind kind, YamlKeys map) {
    String on =
        kind.targets().size() > 1
            ? map.required("on", target(kind.targets()), "which instrument")
            : map.optional("on", target(kind.targets()), kind.targets().get(0), "which one");
    Duration after = map.required("after", SPAN, "since the start of the bench's clock");
    Duration lasting = map.optional("lasting", SPAN, Duration.ZERO, "how long; default for good");
    return new SimFault(kind, on, new SimFault.AtTime(after), 1, size(kind, map), lasting);
  }

  private static SimFault onLink(SimFault.Kind kind, YamlKeys map) {
    String on = map.required("on", target(SimInstrumentNames.NAMES), "which instrument");
    Optional<Duration> after = map.optional("after", SPAN, "since the start of the clock");
    Optional<Integer> question =
        map.optional("question", YamlForms.count(1, 1_000_000_000), "at which line it hears");
    int times = map.optional("times", YamlForms.count(1, 1_000_000), 1, "how many replies");
    double size = size(kind, map);
    return new SimFault(kind, on, when(after, question), times, size, Duration.ZERO);
  }

  private static SimFault.When when(Optional<Duration> after, Optional<Integer> question) {
    if (after.isPresent() == question.isPresent()) {
      throw new IllegalArgumentException(
          "a fault with %s; expected either 'after: TIME' or 'question: NUMBER'"
              .formatted(after.isPresent() ? "two beginnings" : "no beginning"));
    }
    return after
        .<SimFault.When>map(SimFault.AtTime::new)
        .orElseGet(() -> new SimFault.AtQuestion(question.orElseThrow()));
  }

  private static YamlForm<String> target(List<String> names) {
    Map<String, String> words = new LinkedHashMap<>();
    names.forEach(n -> words.put(n, n));
    return YamlForms.choice(words);
  }

  /** The key of the size, where the kind has one. */
  private static double size(SimFault.Kind kind, YamlKeys map) {
    double usual = kind.usualSize();
    return switch (kind) {
      case LATE_REPLY, REFUSED, REBOOT -> map.optional("pause", SECONDS, usual, "real time");
      case CHAMBER_OVERSHOOTS, SENSOR_OFFSET ->
          map.optional("by", Dimension.TEMPERATURE_DIFFERENCE, usual, "size");
      case WILD_READING -> map.optional("by", Dimension.RATIO, usual, "of the reading");
      case CLOCK_JUMP -> map.optional("by", Dimension.TIME, usual, "negative: back");
      default -> usual;
    };
  }
}
