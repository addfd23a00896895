// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import millrace.bench.Interlocks.Hours;
import millrace.bench.Interlocks.Warmth;
import millrace.calibration.Band;
import millrace.document.Words;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.quantity.Dimension;

/** How interlocks are written in a bench file. */
final class InterlockForms {
  private InterlockForms() {}

  static final Form<Interlocks> INTERLOCKS = interlocks();

  private static Form<Interlocks> interlocks() {
    MapForm.Builder map = MapForm.of("interlocks");
    WarmthKeys chamber = new WarmthKeys(map, "chamber");
    WarmthKeys unit = new WarmthKeys(map, "unit");
    Key<Boolean> alarm =
        map.optional(
            "chamber alarm", Forms.yesNo(), false, "whether the chamber's own alarm is watched");
    Key<Optional<Double>> voltage =
        map.optional("terminal voltage", Forms.quantity(Dimension.VOLTAGE), "largest");
    Key<Optional<Double>> supply =
        map.optional("supply current", Forms.quantity(Dimension.CURRENT), "largest");
    Key<Optional<Band>> humidity = map.optional("humidity", humidity(), "largest, or both bounds");
    Key<Optional<Double>> dew =
        map.optional(
            "dew point margin",
            Forms.where(
                Forms.quantity(Dimension.TEMPERATURE_DIFFERENCE), k -> k >= 0, "0 K or more"),
            "how far above the room's dew point everything stays while the door is open");
    Key<Optional<Hours>> hours =
        map.optional("hours", hours(), "when the bench may be at work, by the local clock");
    Key<Optional<Double>> disk = map.optional("free disk", Forms.quantity(Dimension.DATA), "least");
    Key<Optional<Double>> silence =
        map.optional("without a good reading", Forms.quantity(Dimension.TIME), "longest");
    Key<Double> poll =
        map.optional(
            "look every",
            Forms.where(Forms.quantity(Dimension.TIME), s -> s > 0, "a time span above 0"),
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
    private final Key<Optional<Band>> degC;
    private final Key<Optional<Double>> rate;

    WarmthKeys(MapForm.Builder map, String whose) {
      degC =
          map.optional(
              whose + " temperature", AccuracyForms.band(Dimension.TEMPERATURE), "both bounds");
      rate =
          map.optional(
              whose + " rate",
              Forms.where(
                  Forms.quantity(Dimension.TEMPERATURE_RATE), r -> r > 0, "a rate above 0 K/min"),
              "fastest change of that temperature from one look to the next");
    }

    Warmth get(MapForm.Values v) {
      return new Warmth(v.get(degC), v.get(rate));
    }
  }

  private static Form<Band> humidity() {
    return Forms.scalarOr(
        Forms.map(
            Forms.quantity(Dimension.HUMIDITY), most -> new Band(Double.NEGATIVE_INFINITY, most)),
        AccuracyForms.band(Dimension.HUMIDITY));
  }

  private static Form<Hours> hours() {
    return Forms.map(
        Forms.where(
            Forms.list(time(), 2),
            list -> list.size() == 2,
            "two times of the day, as in ['18:00', '08:00']"),
        (List<LocalTime> list) -> new Hours(list.get(0), list.get(1)));
  }

  private static Form<LocalTime> time() {
    return Forms.map(
        Forms.text("a time of the day, as in '18:00'"),
        text -> {
          try {
            return LocalTime.parse(text);
          } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(
                Words.quoted(text) + " is no time of the day; expected one as in '18:00'", e);
          }
        });
  }
}
