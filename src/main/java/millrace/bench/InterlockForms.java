// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import millrace.bench.Interlocks.Hours;
import millrace.bench.Interlocks.Warmth;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;

/** How interlocks are written in a bench file. */
final class InterlockForms {
  private InterlockForms() {}

  static final YamlForm<Interlocks> INTERLOCKS =
      YamlMapForm.of(
          "interlocks",
          map ->
              new Interlocks(
                  warmth(map, "chamber"),
                  warmth(map, "unit"),
                  map.optional(
                      "chamber alarm",
                      YamlForms.yesNo(),
                      false,
                      "whether the chamber's own alarm is watched"),
                  map.optional("terminal voltage", Dimension.VOLTAGE, "largest"),
                  map.optional("supply current", Dimension.CURRENT, "largest"),
                  map.optional("humidity", humidity(), "largest, or both bounds"),
                  map.optional(
                      "dew point margin",
                      YamlForms.from0(Dimension.TEMPERATURE_DIFFERENCE, "0 K or more"),
                      "how far above the room's dew point everything stays while the door is open"),
                  map.optional(
                      "hours", hours(), "when the bench may be at work, by the local clock"),
                  map.optional("free disk", Dimension.DATA, "least"),
                  map.optional("without a good reading", Dimension.TIME, "longest"),
                  map.optional(
                      "look every",
                      YamlForms.above0(Dimension.TIME, "a time span above 0"),
                      10.0,
                      "default 10 s")));

  /** The keys that bound one temperature. */
  private static Warmth warmth(YamlKeys map, String whose) {
    return new Warmth(
        map.optional(
            whose + " temperature", AccuracyForms.band(Dimension.TEMPERATURE), "both bounds"),
        map.optional(
            whose + " rate",
            YamlForms.above0(Dimension.TEMPERATURE_RATE, "a rate above 0 K/min"),
            "fastest change of that temperature from one look to the next"));
  }

  private static YamlForm<ClosedInterval> humidity() {
    return YamlForms.scalarOr(
        YamlForms.map(
            YamlForms.quantity(Dimension.HUMIDITY),
            most -> new ClosedInterval(Double.NEGATIVE_INFINITY, most)),
        AccuracyForms.band(Dimension.HUMIDITY));
  }

  private static YamlForm<Hours> hours() {
    return YamlForms.two(time(), "two times of the day, as in ['18:00', '08:00']", Hours::new);
  }

  private static YamlForm<LocalTime> time() {
    return YamlForms.parsed(
        "a time of the day, as in '18:00'",
        "18:00",
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
