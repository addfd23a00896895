// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import millrace.bench.Interlocks.Hours;
import millrace.bench.Interlocks.Warmth;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;

/** How interlocks are written in a bench file. */
final class InterlockForms {
  private InterlockForms() {}

  static final YamlForm<Interlocks> INTERLOCKS = interlocks();

  private static YamlForm<Interlocks> interlocks() {
    YamlMapForm.Builder map = YamlMapForm.of("interlocks");
    WarmthKeys chamber = new WarmthKeys(map, "chamber");
    WarmthKeys unit = new WarmthKeys(map, "unit");
    Key<Boolean> alarm =
        map.optional(
            "chamber alarm",
            YamlForms.yesNo(),
            false,
            "whether the chamber's own alarm is watched");
    Key<Optional<Double>> voltage =
        map.optional("terminal voltage", YamlForms.quantity(Dimension.VOLTAGE), "largest");
    Key<Optional<Double>> supply =
        map.optional("supply current", YamlForms.quantity(Dimension.CURRENT), "largest");
    Key<Optional<ClosedInterval>> humidity =
        map.optional("humidity", humidity(), "largest, or both bounds");
    Key<Optional<Double>> dew =
        map.optional(
            "dew point margin",
            YamlForms.where(
                YamlForms.quantity(Dimension.TEMPERATURE_DIFFERENCE), k -> k >= 0, "0 K or more"),
            "how far above the room's dew point everything stays while the door is open");
    Key<Optional<Hours>> hours =
        map.optional("hours", hours(), "when the bench may be at work, by the local clock");
    Key<Optional<Double>> disk =
        map.optional("free disk", YamlForms.quantity(Dimension.DATA), "least");
    Key<Optional<Double>> silence =
        map.optional("without a good reading", YamlForms.quantity(Dimension.TIME), "longest");
    Key<Double> poll =
        map.optional(
            "look every",
            YamlForms.where(YamlForms.quantity(Dimension.TIME), s -> s > 0, "a time span above 0"),
            10.0,
            "default 10 s");
    return map.reads(
        v ->
            new Interlocks(
                chamber.get(v),
                unit.get(v),
                v.get(alarm),
                v.get(voltage),
                v.get(supply),
                v.get(humidity),
                v.get(dew),
                v.get(hours),
                v.get(disk),
                v.get(silence),
                v.get(poll)));
  }

  /** The keys that bound one temperature. */
  private static final class WarmthKeys {
    private final Key<Optional<ClosedInterval>> degC;
    private final Key<Optional<Double>> rate;

    WarmthKeys(YamlMapForm.Builder map, String whose) {
      degC =
          map.optional(
              whose + " temperature", AccuracyForms.band(Dimension.TEMPERATURE), "both bounds");
      rate =
          map.optional(
              whose + " rate",
              YamlForms.where(
                  YamlForms.quantity(Dimension.TEMPERATURE_RATE),
                  r -> r > 0,
                  "a rate above 0 K/min"),
              "fastest change of that temperature from one look to the next");
    }

    Warmth get(YamlMapForm.Values v) {
      return new Warmth(v.get(degC), v.get(rate));
    }
  }

  private static YamlForm<ClosedInterval> humidity() {
    return YamlForms.scalarOr(
        YamlForms.map(
            YamlForms.quantity(Dimension.HUMIDITY),
            most -> new ClosedInterval(Double.NEGATIVE_INFINITY, most)),
        AccuracyForms.band(Dimension.HUMIDITY));
  }

  private static YamlForm<Hours> hours() {
    return YamlForms.map(
        YamlForms.where(
            YamlForms.list(time(), 2),
            list -> list.size() == 2,
            "two times of the day, as in ['18:00', '08:00']"),
        (List<LocalTime> list) -> new Hours(list.get(0), list.get(1)));
  }

  private static YamlForm<LocalTime> time() {
    return YamlForms.map(
        YamlForms.text("a time of the day, as in '18:00'"),
        text -> {
          try {
            return LocalTime.parse(text);
          } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(
                FileMessageText.quoted(text) + " is no time of the day; expected one as in '18:00'",
                e);
          }
        });
  }
}
