// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
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
  /** A file of faults. */
  public static final YamlForm<FaultPlan> FORM = form();

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

  private static YamlForm<FaultPlan> form() {
    YamlMapForm.Builder map = YamlMapForm.of("a file of faults");
    Key<List<SimFault>> faults =
        map.optional("faults", YamlForms.list(fault(), 1), List.of(), "what goes wrong, and when");
    Key<Optional<FaultPlan>> drawn =
        map.optional("drawn", drawn(), "faults at random times on random instruments");
    return map.reads(v -> new FaultPlan(v.get(faults)).and(v.get(drawn).orElse(FaultPlan.NONE)));
  }

  private static YamlForm<FaultPlan> drawn() {
    YamlMapForm.Builder map = YamlMapForm.of("faults to draw");
    Key<Integer> count = map.required("count", YamlForms.count(0, 1000), "how many");
    Key<Double> within = map.required("within", span(), "until when of the bench's clock");
    Key<Integer> seed =
        map.optional("seed", YamlForms.count(0, Integer.MAX_VALUE), 1, "what they are drawn with");
    YamlForm<SimFault.Kind> kind = YamlForms.choice(SimFault.Kind.values(), SimFault.Kind::text);
    Key<List<SimFault.Kind>> kinds =
        map.optional(
            "kinds", YamlForms.list(kind, 1), List.of(SimFault.Kind.values()), "of these only");
    return map.reads(
        v ->
            FaultPlan.drawn(
                new FaultPlan.Lot(
                    v.get(count), TimeSpanSeconds.ofSeconds(v.get(within)), v.get(kinds)),
                new Seeds(v.get(seed))));
  }

  private static YamlForm<SimFault> fault() {
    Map<String, YamlForm<? extends SimFault>> kinds = new LinkedHashMap<>();
    for (SimFault.Kind kind : SimFault.Kind.values()) {
      kinds.put(kind.text(), kind.befallsBench() ? onBench(kind) : onLink(kind));
    }
    return YamlForms.byWord("a fault", "kind", kinds);
  }

  private static YamlForm<Double> span() {
    return YamlForms.where(YamlForms.quantity(Dimension.TIME), s -> s >= 0, "0 s or more");
  }

  private static YamlMapForm.Builder of(SimFault.Kind kind) {
    YamlMapForm.Builder map = YamlMapForm.of("a fault");
    map.required("kind", YamlForms.choice(Map.of(kind.text(), kind)), "what goes wrong");
    return map;
  }

  private static YamlForm<SimFault> onBench(SimFault.Kind kind) {
    YamlMapForm.Builder map = of(kind);
    Key<String> on =
        kind.targets().size() > 1
            ? map.required("on", target(kind.targets()), "which instrument")
            : map.optional("on", target(kind.targets()), kind.targets().get(0), "which one");
    Key<Double> after = map.required("after", span(), "since the start of the bench's clock");
    Key<Double> lasting = map.optional("lasting", span(), 0.0, "how long; default for good");
    Function<YamlMapForm.Values, Double> size = size(kind, map);
    return map.reads(
        v ->
            new SimFault(
                kind,
                v.get(on),
                new SimFault.AtTime(TimeSpanSeconds.ofSeconds(v.get(after))),
                1,
                size.apply(v),
                TimeSpanSeconds.ofSeconds(v.get(lasting))));
  }

  private static YamlForm<SimFault> onLink(SimFault.Kind kind) {
    YamlMapForm.Builder map = of(kind);
    Key<String> on = map.required("on", target(SimInstrumentNames.NAMES), "which instrument");
    Key<Optional<Double>> after = map.optional("after", span(), "since the start of the clock");
    Key<Optional<Integer>> question =
        map.optional("question", YamlForms.count(1, 1_000_000_000), "at which line it hears");
    Key<Integer> times =
        map.optional("times", YamlForms.count(1, 1_000_000), 1, "how many replies");
    Function<YamlMapForm.Values, Double> size = size(kind, map);
    return map.reads(
        v ->
            new SimFault(
                kind,
                v.get(on),
                when(v.get(after), v.get(question)),
                v.get(times),
                size.apply(v),
                Duration.ZERO));
  }

  private static SimFault.When when(Optional<Double> after, Optional<Integer> question) {
    if (after.isPresent() == question.isPresent()) {
      throw new IllegalArgumentException(
          "a fault with %s; expected either 'after: TIME' or 'question: NUMBER'"
              .formatted(after.isPresent() ? "two beginnings" : "no beginning"));
    }
    return after
        .<SimFault.When>map(s -> new SimFault.AtTime(TimeSpanSeconds.ofSeconds(s)))
        .orElseGet(() -> new SimFault.AtQuestion(question.orElseThrow()));
  }

  private static YamlForm<String> target(List<String> names) {
    Map<String, String> words = new LinkedHashMap<>();
    names.forEach(n -> words.put(n, n));
    return YamlForms.choice(words);
  }

  /** The key that says how much, where the kind has one. */
  private static Function<YamlMapForm.Values, Double> size(
      SimFault.Kind kind, YamlMapForm.Builder map) {
    double usual = kind.usualSize();
    return switch (kind) {
      case LATE_REPLY, REFUSED, REBOOT -> fetch(map.optional("pause", span(), usual, "real time"));
      case CHAMBER_OVERSHOOTS, SENSOR_OFFSET ->
          fetch(
              map.optional(
                  "by", YamlForms.quantity(Dimension.TEMPERATURE_DIFFERENCE), usual, "size"));
      case WILD_READING ->
          fetch(map.optional("by", YamlForms.quantity(Dimension.RATIO), usual, "of the reading"));
      case CLOCK_JUMP ->
          fetch(map.optional("by", YamlForms.quantity(Dimension.TIME), usual, "negative: back"));
      default -> v -> usual;
    };
  }

  private static Function<YamlMapForm.Values, Double> fetch(Key<Double> key) {
    return v -> v.get(key);
  }
}
