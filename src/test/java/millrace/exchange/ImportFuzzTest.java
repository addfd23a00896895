// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.document.Hostile;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a table of readings is understood, or refused with its place. */
class ImportFuzzTest {
  @TempDir static Path folder;

  static List<byte[]> tables() {
    return Stream.of(
            "range,nominal_A,current_A\n1mA,1e-3,1.00001e-3\n1mA,1e-3,NaN\n",
            "\ufeffrange,nominal_A,current_A,load_ohm,temperature_degC,unit,slot,time_s\r\n"
                + "1mA,0.001,0.00100001,\"1000\",23.1,U-1,left,0\r\n"
                + "1mA,0.001,9.9E37,1000,23.1,U-1,left,0.5\r\n",
            "current_A,range,nominal_A,terminal_voltage_V,u_current_A,u_common_A,common_group,"
                + "taken_at,direction,point\n"
                + "1e-4,\"a \"\"b\"\"\",1e-4,1.5,1e-9,2e-9,g,2026-01-02T03:04:05Z,up,3\n")
        .map(text -> text.getBytes(StandardCharsets.UTF_8))
        .toList();
  }

  @MethodSource("tables")
  @FuzzTest
  void isUnderstoodOrRefused(byte[] bytes) {
    Path file = folder.resolve("t.csv");
    Hostile.refused(
        file.toString(),
        bytes,
        b -> {
          write(file, b);
          Import.check(file).units();
        });
  }

  private static void write(Path file, byte[] bytes) {
    try {
      Files.write(file, bytes);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
