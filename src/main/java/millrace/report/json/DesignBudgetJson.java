// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import millrace.analysis.design.DesignForecast;
import millrace.analysis.design.DesignPrediction;
import millrace.analysis.design.DeviationContribution;
import millrace.evidence.Version;
import org.jspecify.annotations.Nullable;

/**
 * Prediction of a design as JSON. Every key is present, null if empty: {@code millrace} (version),
 * {@code datasheet}, {@code reference_temperature_degC}, {@code coverage}, {@code trials}, {@code
 * seed}, {@code predictions} and {@code notes}. A prediction has {@code quantity}, {@code range},
 * {@code other_range}, {@code unit}, {@code nominal}, {@code worst_case} ({@code lower}, {@code
 * upper}), {@code root_sum_square} (a half-width), {@code drawn} ({@code mean}, {@code
 * standard_deviation}, {@code lower}, {@code upper}), {@code shares} and {@code missing}. A share
 * has {@code part}, {@code deviation}, {@code effect} (signed, at the part's half-width, in the
 * unit of the quantity) and {@code share} (0 to 1 of the root-sum-square).
 */
public final class DesignBudgetJson {
  private DesignBudgetJson() {}

  /**
   * The document.
   *
   * @param datasheet name of the datasheet
   * @param prediction prediction from its parts
   * @param seed seed of the simulated units
   * @param notes further remarks
   * @return JSON
   */
  public static String print(
      String datasheet, DesignPrediction prediction, long seed, List<String> notes) {
    Map<String, @Nullable Object> document = new LinkedHashMap<>();
    document.put("millrace", Version.CURRENT);
    document.put("datasheet", datasheet);
    document.put("reference_temperature_degC", prediction.circuit().referenceDegC());
    document.put("coverage", prediction.coverage());
    document.put("trials", prediction.trials());
    document.put("seed", seed);
    document.put(
        "predictions",
        Stream.concat(prediction.ranges().stream(), prediction.ratios().stream())
            .map(DesignBudgetJson::forecast)
            .toList());
    List<String> all = new ArrayList<>(prediction.circuit().assumptions().inWords());
    all.addAll(notes);
    document.put("notes", all);
    return text(document);
  }

  private static String text(Map<String, @Nullable Object> document) {
    try {
      return new ObjectMapper()
          .enable(SerializationFeature.INDENT_OUTPUT)
          .writeValueAsString(document);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("plain maps can always be written", e);
    }
  }

  private static Map<String, @Nullable Object> forecast(DesignForecast forecast) {
    Map<String, @Nullable Object> map = new LinkedHashMap<>();
    DesignForecast.@Nullable Spread s = forecast.spread().orElse(null);
    map.put("quantity", forecast.quantity().key());
    map.put("range", forecast.range());
    map.put("other_range", forecast.otherRange().orElse(null));
    map.put("unit", forecast.quantity().unit());
    map.put("nominal", s == null ? null : s.nominal());
    map.put("worst_case", s == null ? null : interval(s.lowest(), s.highest()));
    map.put("root_sum_square", s == null ? null : s.rootSumSquare());
    map.put("drawn", s == null ? null : drawn(s));
    map.put("shares", s == null ? null : s.shares().stream().map(DesignBudgetJson::share).toList());
    map.put("missing", forecast.missing().orElse(null));
    return map;
  }

  private static Map<String, Object> interval(double lower, double upper) {
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("lower", lower);
    map.put("upper", upper);
    return map;
  }

  private static Map<String, Object> drawn(DesignForecast.Spread s) {
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("mean", s.mean());
    map.put("standard_deviation", s.standardDeviation());
    map.putAll(interval(s.lower(), s.upper()));
    return map;
  }

  private static Map<String, Object> share(DeviationContribution share) {
    Map<String, Object> map = new LinkedHashMap<>();
    map.put("part", share.part());
    map.put("deviation", share.kind().text());
    map.put("effect", share.effect());
    map.put("share", share.share());
    return map;
  }
}
