// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.file.Path;
import java.util.List;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.document.Hostile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a sequence is read and expanded to points, or refused with its place. */
class SequenceFileFuzzTest {
  private static final Datasheet FX_3 = DatasheetFile.read(Path.of("examples/fx-3.datasheet.yaml"));
  private static final Path FILE = Path.of("s.yaml");

  static List<byte[]> shipped() {
    return Hostile.shipped("sequences", ".yaml");
  }

  @MethodSource("shipped")
  @FuzzTest
  void isReadOrRefused(byte[] bytes) {
    Hostile.refused("s.yaml", bytes, SequenceFileFuzzTest::expand);
  }

  private static void expand(byte[] bytes) {
    var loaded = SequenceForms.read(FILE, p -> p.equals(FILE) ? bytes : noPart());
    SequenceExpansion.expand(loaded.sequence(), FX_3, List.of());
  }

  private static byte[] noPart() {
    throw new BadInputException(new InputFault(FilePlace.of("s.yaml"), "no such part", "", ""));
  }
}
