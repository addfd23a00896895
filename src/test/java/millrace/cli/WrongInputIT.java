// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Files that are wrong in ten ways: each is refused with its place and with what to do, exit code
 * 2, and no logbook is made or touched.
 */
@Timeout(120)
class WrongInputIT {
  private static final String SEQUENCE =
      """
      sequence: a short run
      readings: {count: 2}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {resistance: [0 ohm, 100 ohm]}
      """;
  private static final String DATASHEET =
      """
      datasheet: BX5 excitation source
      parts:
        REF: {kind: reference, value: 4.096 V}
        R1: {kind: resistor, value: 4.096 kohm}
      ranges:
        1mA: {nominal: 1 mA, made from: {reference: REF, set voltage: 4.096 V, resistor: R1}}
      limits:
        - {quantity: current_error, range: 1mA, upper: 100 ppm,
           when: {terminal voltage: [0 V, 1 V]}}
      """;
  private static final String BENCH =
      """
      bench: a small bench
      line frequency: 50 Hz
      instruments:
        meter:
          driver: scpi meter
          address: tcp 127.0.0.1:9
          roles:
            current meter: {}
        box:
          driver: plain decade load
          address: tcp 127.0.0.1:9
          roles:
            load: {residual: 30 mohm}
      """;
  private static final String READINGS =
      """
      unit,range,nominal_A,load_ohm,current_A
      BX5-0001,1mA,0.001,100,0.00100002
      BX5-0001,1mA,0.001,100,0.00100003
      """;

  /** The kinds of file that people hand to Millrace. */
  private enum Kind {
    SEQUENCE("run.yaml", WrongInputIT.SEQUENCE),
    DATASHEET("unit.datasheet.yaml", WrongInputIT.DATASHEET),
    BENCH("small.bench.yaml", WrongInputIT.BENCH),
    READINGS("night.csv", WrongInputIT.READINGS);

    private final String file;
    private final String good;

    Kind(String file, String good) {
      this.file = file;
      this.good = good;
    }
  }

  @TempDir private Path folder;
  private Path existing;

  @BeforeEach
  void writeGoodFiles() throws IOException {
    for (Kind kind : Kind.values()) {
      Files.writeString(folder.resolve(kind.file), kind.good);
    }
    existing = folder.resolve("existing.db");
    String readings = folder.resolve(Kind.READINGS.file).toString();
    assertEquals(0, Spoken.by("import", readings, "--logbook", existing.toString()).code());
  }

  private Spoken give(Kind kind, Path file, Path logbook) {
    List<String> words = new ArrayList<>();
    if (kind == Kind.READINGS) {
      words.addAll(List.of("import", file.toString()));
    } else {
      Path sequence = kind == Kind.SEQUENCE ? file : folder.resolve(Kind.SEQUENCE.file);
      Path datasheet = kind == Kind.DATASHEET ? file : folder.resolve(Kind.DATASHEET.file);
      Path bench = kind == Kind.BENCH ? file : folder.resolve(Kind.BENCH.file);
      words.addAll(List.of("run", sequence.toString(), "--unit", "BX5-0001"));
      words.addAll(List.of("--datasheet", datasheet.toString(), "--bench", bench.toString()));
    }
    words.addAll(List.of("--logbook", logbook.toString()));
    return Spoken.by(words.toArray(String[]::new));
  }

  /** Refused with the place, what was found and what to do; nothing written. */
  private void assertRefused(Kind kind, Path file, String place, String found) throws IOException {
    byte[] before = Files.readAllBytes(existing);
    Path fresh = folder.resolve("fresh.db");
    Spoken spoken = give(kind, file, fresh);
    assertEquals(2, spoken.code(), spoken.err());
    assertEquals("", spoken.out());
    assertTrue(spoken.err().contains(place), spoken.err());
    assertTrue(spoken.err().contains(found), spoken.err());
    assertTrue(spoken.err().contains("; expected "), spoken.err());
    assertTrue(spoken.err().strip().matches("(?s).*[.?]"), spoken.err());
    assertFalse(spoken.err().contains("Exception"), spoken.err());
    assertFalse(spoken.err().contains("fault of Millrace"), spoken.err());
    assertFalse(Files.exists(fresh), "a logbook was made");
    assertEquals(spoken.err(), give(kind, file, existing).err());
    assertArrayEquals(before, Files.readAllBytes(existing));
  }

  private Path file(Kind kind, String content) throws IOException {
    return Files.writeString(folder.resolve(kind.file), content);
  }

  private void wrong(Kind kind, String good, String bad, String found) throws IOException {
    assertTrue(kind.good.contains(good), kind.good);
    String text = kind.good.replace(good, bad);
    Path file = file(kind, text);
    String until = kind.good.substring(0, kind.good.indexOf(good));
    String place = file + ":" + (until.lines().count() + (until.endsWith("\n") ? 1 : 0)) + ":";
    assertRefused(kind, file, place, found);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          SEQUENCE  | 100 ohm]          | 100 kg]            | '100 kg'
          SEQUENCE  | 100 ohm]          | 100 V]             | '100 V'
          DATASHEET | nominal: 1 mA     | nominal: 1 mOhms   | '1 mOhms'
          DATASHEET | upper: 100 ppm    | upper: 100 degC    | '100 degC'
          BENCH     | 30 mohm           | 30 mK              | '30 mK'
          READINGS  | 1mA,0.001         | 1mA,1 mA           | '1 mA'
          """)
  void aBadUnit(Kind kind, String good, String bad, String found) throws IOException {
    wrong(kind, good, bad, found);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          SEQUENCE  | count       | counts    | Did you mean 'count'?
          DATASHEET | nominal     | nominale  | Did you mean 'nominal'?
          BENCH     | residual    | residuel  | Did you mean 'residual'?
          READINGS  | current_A   | curent_A  | Did you mean it by 'curent_A'?
          """)
  void anUnknownKey(Kind kind, String good, String bad, String found) throws IOException {
    wrong(kind, good, bad, found);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          SEQUENCE  | 100 ohm]     | -100 ohm] | '-100 ohm'
          DATASHEET | 4.096 kohm   | -4 kohm   | the resistance is -4000
          BENCH     | 30 mohm      | -30 mohm  | a residual resistance of -0.03 ohm
          READINGS  | 0.001,100,   | 0.001,-100,   | -100
          """)
  void aNegativeResistance(Kind kind, String good, String bad, String found) throws IOException {
    wrong(kind, good, bad, found);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          SEQUENCE  | [1mA]            | [1 mA]       | '1 mA'
          SEQUENCE  | [1mA]            | [100mA]      | '100mA'
          DATASHEET | range: 1mA       | range: 10mA  | '10mA'
          """)
  void aRangeThatTheDatasheetLacks(Kind kind, String good, String bad, String found)
      throws IOException {
    wrong(kind, good, bad, found);
  }

  @ParameterizedTest
  @CsvSource({"meter, current meter", "box, load"})
  void aRoleThatIsMissing(String instrument, String found) throws IOException {
    String without =
        instrument.equals("meter")
            ? BENCH.replace("current meter", "voltmeter") + "wiring: {voltmeter: across load}\n"
            : BENCH.substring(0, BENCH.indexOf("  box:"));
    file(Kind.BENCH, without);
    assertRefused(
        Kind.SEQUENCE,
        folder.resolve(Kind.SEQUENCE.file),
        folder.resolve(Kind.SEQUENCE.file) + ":6:",
        "has no " + found);
  }

  @ParameterizedTest
  @CsvSource({"run.yaml", "./run.yaml", "other.yaml"})
  void aPartThatIncludesItself(String part) throws IOException {
    Files.writeString(
        folder.resolve("other.yaml"), "sequence: another\nsteps:\n  - part: run.yaml\n");
    Path file = file(Kind.SEQUENCE, "sequence: a loop\nsteps:\n  - part: " + part + "\n");
    assertRefused(Kind.SEQUENCE, file, ".yaml:3:", "includes itself");
  }

  static Stream<Arguments> whatIsNoFile() {
    return Stream.of(Kind.values())
        .flatMap(
            kind ->
                Stream.of("binary", "empty", "blank", "a directory", "missing", "unreadable")
                    .map(what -> Arguments.of(kind, what)));
  }

  @ParameterizedTest
  @MethodSource("whatIsNoFile")
  void whatIsNotSuchAFileAtAll(Kind kind, String what) throws IOException {
    Path file = folder.resolve("wrong-" + kind.file);
    switch (what) {
      case "binary" -> Files.write(file, binary());
      case "empty" -> Files.createFile(file);
      case "blank" -> Files.writeString(file, "\n \n");
      case "a directory" -> Files.createDirectory(file);
      case "unreadable" -> file = unreadable(file);
      default -> assertFalse(Files.exists(file));
    }
    assertRefused(kind, file, file.toString(), "");
  }

  private static byte[] binary() {
    byte[] picture = new byte[2000];
    for (int i = 0; i < picture.length; i++) {
      picture[i] = (byte) (i * 151 + i / 7);
    }
    byte[] head = "\u0089PNG\r\n\u001a\n".getBytes(ISO_8859_1);
    System.arraycopy(head, 0, picture, 0, head.length);
    return picture;
  }

  /** Permissions do not hold the superuser; the memory of a process cannot be read at 0 by him. */
  private static Path unreadable(Path file) throws IOException {
    Files.write(file, "x: 1\n".getBytes(UTF_8));
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("---------"));
    return Files.isReadable(file) ? Path.of("/proc/self/mem") : file;
  }
}
