// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import millrace.fault.InstrumentException;
import millrace.lock.LockHolder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BenchLockTest {
  @TempDir private Path folder;

  private static BenchFile bench(String meter, String load) {
    String text =
        """
        bench: B
        instruments:
          meter: {driver: d, address: '%s', roles: {current meter: {}}}
          load: {driver: d, address: '%s', roles: {load: {}}}
        """;
    return BenchForms.read("b.yaml", text.formatted(meter, load).getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void anAddressInUseIsRefusedByNameAndTheOthersAreLetGoOf() {
    BenchFile both = bench("tcp a:1", "tcp a:2");
    try (BenchLock first = BenchLock.take(bench("tcp a:2", "by hand"), folder)) {
      InstrumentException refused =
          assertThrows(InstrumentException.class, () -> BenchLock.take(both, folder));
      assertEquals(
          "bench 'B': tcp a:2 is in use by %s; expected that nobody uses it. Let that end, or stop it first."
              .formatted(LockHolder.thisProcess()),
          refused.getMessage());
      BenchLock.take(bench("tcp a:1", "by hand"), folder).close();
      first.close();
      BenchLock.take(both, folder).close();
    }
  }
}
