// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Collection;
import millrace.cli.option.BenchFileOptions;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.document.yaml.YamlFile;
import millrace.fault.NotAnalysableException;
import millrace.night.forecast.ForecastNights;
import millrace.time.SystemClock;

/**
 * The datasheet that a measurement is planned for.
 *
 * @param file where it stands
 * @param text its text
 * @param promises what it states
 */
record PlannedDatasheet(Path file, String text, Datasheet promises) {
  /** Reads one. */
  static PlannedDatasheet read(Path file) {
    byte[] content = YamlFile.bytes(file);
    return new PlannedDatasheet(
        file,
        new String(content, StandardCharsets.UTF_8),
        DatasheetFile.read(file.toString(), content));
  }

  /** Refuses a datasheet by which nothing can be decided. */
  void refuseWithoutLimits() {
    if (promises.limits().isEmpty()) {
      throw new NotAnalysableException(
          file + ": it states no limits, so there is nothing to decide. Add 'limits'.");
    }
  }

  /** Refuses ranges whose compliance voltage is not stated. */
  void refuseWithoutCompliance(Collection<String> ranges) {
    for (String range : ranges) {
      if (promises.complianceVoltageV(range).isEmpty()) {
        throw new NotAnalysableException(
            file
                + ": range '"
                + range
                + "' states no compliance voltage, by which loads are chosen. Add 'compliance:"
                + " {voltage: ...}', or write the sequence by hand.");
      }
    }
  }

  /** What computed nights on a bench have in common, from now on. */
  ForecastNights.Fixed on(BenchFileOptions bench, byte[] benchFile) {
    return new ForecastNights.Fixed(
        file.toString(),
        text,
        bench.name(),
        new String(benchFile, StandardCharsets.UTF_8),
        bench.drivers(),
        new SystemClock().now());
  }
}
