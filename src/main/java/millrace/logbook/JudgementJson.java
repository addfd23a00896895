// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.ConditionBox;
import millrace.evidence.Judgement.Risk;
import millrace.quantity.ClosedInterval;
import millrace.quantity.NumberText;
import org.jspecify.annotations.Nullable;

/** What a judgement rests on, as small JSON objects in one column each. */
final class JudgementJson {
  private static final String TEMPERATURE = "temperature_degC";
  private static final String VOLTAGE = "terminal_voltage_V";
  private static final String SUPPLY = "supply_V";
  private static final String TIME = "time_on_s";

  private static final String SPECIFIC = "specific";
  private static final String ALONE = "{\"" + SPECIFIC + "\":\"";
  private static final String ALONE_END = "\"}";

  private JudgementJson() {}

  static String of(ConditionBox box) {
    Map<String, String> words = new TreeMap<>();
    put(words, TEMPERATURE, box.temperatureDegC());
    put(words, VOLTAGE, box.terminalVoltageV());
    put(words, SUPPLY, box.supplyV());
    put(words, TIME, box.timeOnS());
    return JsonColumnText.ofMap(words);
  }

  private static void put(Map<String, String> words, String key, Optional<ClosedInterval> span) {
    span.ifPresent(
        s -> words.put(key, NumberText.print(s.lower()) + " " + NumberText.print(s.upper())));
  }

  static ConditionBox box(String text) {
    Map<String, String> words = JsonColumnText.map(text);
    return new ConditionBox(
        span(words.get(TEMPERATURE)),
        span(words.get(VOLTAGE)),
        span(words.get(SUPPLY)),
        span(words.get(TIME)));
  }

  private static Optional<ClosedInterval> span(@Nullable String words) {
    if (words == null) {
      return Optional.empty();
    }
    String[] ends = words.split(" ", 2);
    return Optional.of(ClosedInterval.finite(number(ends[0]), number(ends[1])));
  }

  private static double number(String text) {
    return NumberText.parse(text).orElseThrow();
  }

  static String of(BoxJudgementBasis covers) {
    Map<String, String> words = new TreeMap<>();
    words.put("basis", covers.basis().text());
    covers.of().ifPresent(of -> words.put("of", of));
    if (!covers.wanting().isEmpty()) {
      words.put("wanting", JsonColumnText.ofList(covers.wanting()));
    }
    return JsonColumnText.ofMap(words);
  }

  static BoxJudgementBasis covers(String text) {
    Map<String, String> words = JsonColumnText.map(text);
    String wanting = words.get("wanting");
    return words.isEmpty()
        ? BoxJudgementBasis.MEASURED
        : new BoxJudgementBasis(
            StoredEnumWords.known(BoxJudgementBasis.Basis.class, words.get("basis")),
            Optional.ofNullable(words.get("of")),
            wanting == null ? List.of() : JsonColumnText.list(wanting));
  }

  static String of(Risk risk) {
    Map<String, String> words = new TreeMap<>();
    put(words, SPECIFIC, risk.specific());
    put(words, "global_consumer", risk.globalConsumer());
    put(words, "global_producer", risk.globalProducer());
    return JsonColumnText.ofMap(words);
  }

  private static void put(Map<String, String> words, String key, OptionalDouble number) {
    number.ifPresent(n -> words.put(key, NumberText.print(n)));
  }

  static Risk risk(String text) {
    // Each result has its own: of a single risk, as most have, the number stands between the
    // quotes.
    int end = text.length() - ALONE_END.length();
    if (text.startsWith(ALONE) && text.indexOf('"', ALONE.length()) == end) {
      return new Risk(
          OptionalDouble.of(number(text.substring(ALONE.length(), end))),
          OptionalDouble.empty(),
          OptionalDouble.empty());
    }
    Map<String, String> words = JsonColumnText.map(text);
    return new Risk(
        number(words, SPECIFIC),
        number(words, "global_consumer"),
        number(words, "global_producer"));
  }

  private static OptionalDouble number(Map<String, String> words, String key) {
    String text = words.get(key);
    return text == null ? OptionalDouble.empty() : OptionalDouble.of(number(text));
  }
}
