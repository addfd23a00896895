// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.document.yaml.YamlFile;
import millrace.quantity.Dimension;
import millrace.quantity.Spans;
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
  public static final Form<FaultPlan> FORM = form();

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

  private static Form<FaultPlan> form() {
    MapForm.Builder map = MapForm.of("a file of faults");
    Key<List<SimFault>> faults =
        map.optional("faults", Forms.list(fault(), 1), List.of(), "what goes wrong, and when");
    Key<Optional<FaultPlan>> drawn =
        map.optional("drawn", drawn(), "faults at random times on random instruments");
    return map.reads(v -> new FaultPlan(v.get(faults)).and(v.get(drawn).orElse(FaultPlan.NONE)));
  }

  private static Form<FaultPlan> drawn() {
    MapForm.Builder map = MapForm.of("faults to draw");
    Key<Integer> count = map.required("count", Forms.count(0, 1000), "how many");
    Key<Double> within = map.required("within", span(), "until when of the bench's clock");
    Key<Integer> seed =
        map.optional("seed", Forms.count(0, Integer.MAX_VALUE), 1, "what they are drawn with");
    Form<SimFault.Kind> kind = Forms.choice(SimFault.Kind.values(), SimFault.Kind::text);
    Key<List<SimFault.Kind>> kinds =
        map.optional(
            "kinds", Forms.list(kind, 1), List.of(SimFault.Kind.values()), "of these only");
    return map.reads(
        v ->
            FaultPlan.drawn(
                new FaultPlan.Lot(v.get(count), Spans.ofSeconds(v.get(within)), v.get(kinds)),
                new Seeds(v.get(seed))));
  }

  private static Form<SimFault> fault() {
    Map<String, Form<? extends SimFault>> kinds = new LinkedHashMap<>();
    for (SimFault.Kind kind : SimFault.Kind.values()) {
      kinds.put(kind.text(), kind.befallsBench() ? onBench(kind) : onLink(kind));
    }
    return Forms.byWord("a fault", "kind", kinds);
  }

  private static Form<Double> span() {
    return Forms.where(Forms.quantity(Dimension.TIME), s -> s >= 0, "0 s or more");
  }

  private static MapForm.Builder of(SimFault.Kind kind) {
    MapForm.Builder map = MapForm.of("a fault");
    map.required("kind", Forms.choice(Map.of(kind.text(), kind)), "what goes wrong");
    return map;
  }

  private static Form<SimFault> onBench(SimFault.Kind kind) {
    MapForm.Builder map = of(kind);
    Key<String> on =
        kind.targets().size() > 1
            ? map.required("on", target(kind.targets()), "which instrument")
            : map.optional("on", target(kind.targets()), kind.targets().get(0), "which one");
    Key<Double> after = map.required("after", span(), "since the start of the bench's clock");
    Key<Double> lasting = map.optional("lasting", span(), 0.0, "how long; default for good");
    Function<MapForm.Values, Double> size = size(kind, map);
    return map.reads(
        v ->
            new SimFault(
                kind,
                v.get(on),
                new SimFault.AtTime(Spans.ofSeconds(v.get(after))),
                1,
                size.apply(v),
                Spans.ofSeconds(v.get(lasting))));
  }

  private static Form<SimFault> onLink(SimFault.Kind kind) {
    MapForm.Builder map = of(kind);
    Key<String> on = map.required("on", target(Instruments.NAMES), "which instrument");
    Key<Optional<Double>> after = map.optional("after", span(), "since the start of the clock");
    Key<Optional<Integer>> question =
        map.optional("question", Forms.count(1, 1_000_000_000), "at which line it hears");
    Key<Integer> times = map.optional("times", Forms.count(1, 1_000_000), 1, "how many replies");
    Function<MapForm.Values, Double> size = size(kind, map);
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
        .<SimFault.When>map(s -> new SimFault.AtTime(Spans.ofSeconds(s)))
        .orElseGet(() -> new SimFault.AtQuestion(question.orElseThrow()));
  }

  private static Form<String> target(List<String> names) {
    Map<String, String> words = new LinkedHashMap<>();
    names.forEach(n -> words.put(n, n));
    return Forms.choice(words);
  }

  /** The key that says how much, where the kind has one. */
  private static Function<MapForm.Values, Double> size(SimFault.Kind kind, MapForm.Builder map) {
    double usual = kind.usualSize();
    return switch (kind) {
      case LATE_REPLY, REFUSED, REBOOT -> fetch(map.optional("pause", span(), usual, "real time"));
      case CHAMBER_OVERSHOOTS, SENSOR_OFFSET ->
          fetch(
              map.optional("by", Forms.quantity(Dimension.TEMPERATURE_DIFFERENCE), usual, "size"));
      case WILD_READING ->
          fetch(map.optional("by", Forms.quantity(Dimension.RATIO), usual, "of the reading"));
      case CLOCK_JUMP ->
          fetch(map.optional("by", Forms.quantity(Dimension.TIME), usual, "negative: back"));
      default -> v -> usual;
    };
  }

  private static Function<MapForm.Values, Double> fetch(Key<Double> key) {
    return v -> v.get(key);
  }
}
