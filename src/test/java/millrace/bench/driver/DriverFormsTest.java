// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.bench.role.RoleName;
import millrace.document.form.JsonSchema;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class DriverFormsTest {
  private static DriverFile read(String yaml) {
    return DriverForms.DRIVER.readFile("d.yaml", yaml.getBytes(StandardCharsets.UTF_8));
  }

  private static final String LOAD = "load:\n  set: ['R {resistance}']\n";

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistence}']\n",
            "d.yaml:3:9: '{resistence}' is no placeholder here (did you mean 'resistance'?);"
                + " expected 'resistance' or 'word'."),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance:uA}']\n",
            "d.yaml:3:9: '1 uA' is a current; expected a resistance, as in '4.7 kohm'."),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance']\n",
            "d.yaml:3:9: 'R {resistance' opens a brace and does not close it."),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance|q3}']\n",
            "d.yaml:3:9: '{...|q3}' is printed as 'q3'; expected f0 to f15"),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance:ohm|q3}']\n",
            "d.yaml:3:9: '{...ohm|q3}' is printed as 'q3'; expected f0 to f15"),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance:0 ohm}']\n",
            "d.yaml:3:9: nothing is counted in units of '0 ohm'; expected more than 0."),
        Arguments.of(
            "driver: d\nload:\n  set: ['R {resistance|3e1}']\n",
            "d.yaml:3:9: '{...|3e1}' is printed as '3e1'; expected f0 to f15"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', block: yes, lines: 2}\n",
            "d.yaml:3:9: both 'block: yes' and 'lines:' are given; expected one of them"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', number: 'T=.*'}\n",
            "d.yaml:3:29: the pattern 'T=.*' has no group; expected one that takes what is wanted"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', number: '(a'}\n",
            "d.yaml:3:29: '(a' is no regular expression"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', unit: K}\n",
            "d.yaml:3:27: '1 K' is a temperature difference"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: {F: degC}}\n",
            "d.yaml:3:28: 'F' counts in degrees Fahrenheit, which are not taken; expected degC. Set"
                + " the instrument to it."),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: [degC, degF]}\n",
            "d.yaml:3:28: 'degF' counts in degrees Fahrenheit, which are not taken; expected"
                + " degC."),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: [K]}\n",
            "d.yaml:3:28: '1 K' is a temperature difference"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: [banana]}\n",
            "d.yaml:3:28: '1 banana' has the unknown unit 'banana'; expected a temperature"),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: {e3: degC}}\n",
            "d.yaml:3:28: 'e3' is no word that can stand behind a number; expected one without"
                + " blanks that begins with no digit, sign or point, as in uA."),
        Arguments.of(
            "driver: d\nunit thermometer:\n  read: {ask: 'T?', units: degC, digits: hex}\n",
            "d.yaml:3:9: both 'digits: hex' and 'units:' are given; expected one of them"),
        Arguments.of(
            "driver: d\ncurrent meter:\n  prepare: []\n  read: {ask: 'READ?'}\n",
            "d.yaml:3:3: the role current meter has no ranges; expected 'ranges: [{full scale:"),
        Arguments.of("driver: d\n", "d.yaml:1:1: the driver has no role; expected at least one"),
        Arguments.of(
            "driver: d\nlode:\n  set: ['R {resistance}']\n",
            "d.yaml:2:1: unknown key 'lode' in a driver file"),
        Arguments.of(
            "driver: d\nline ending: NL\n" + LOAD,
            "d.yaml:2:14: 'NL' is not known here; expected 'LF', 'CR', 'CRLF' or 'none'."),
        Arguments.of(
            "driver: d\nload:\n  set: [{confirm: ohm, by: 'R?'}]\n",
            "d.yaml:3:9: nothing called 'ohm' is set here; expected 'resistance' or 'word'."),
        Arguments.of(
            "driver: d\nload:\n  set: [{say: x}]\n",
            "d.yaml:3:9: a map with 'say:' says nothing of what it is"),
        Arguments.of(
            "driver: d\nrestart: {ask: '*ESR?', bit: 31}\n" + LOAD,
            "d.yaml:2:30: '31' is out of range; expected a whole number from 0 to 30."));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void saysWhereAndWhatIsWrong(String yaml, String message) {
    String found = assertThrows(BadInputException.class, () -> read(yaml)).getMessage();
    assertTrue(found.contains(message), found);
  }

  @Test
  void commandsMayNameTheSettingsOfTheFile() {
    DriverFile driver =
        read("driver: d\nsettings: {bus: {default: '3'}}\nload:\n  set: ['{bus}R {resistance}']\n");
    assertEquals("{bus=Optional[3]}", driver.settings().toString());
    assertTrue(driver.roles().containsKey(RoleName.LOAD));
  }

  static Stream<Path> shipped() throws Exception {
    try (Stream<Path> files = Files.list(Path.of("drivers"))) {
      return files.filter(f -> f.toString().endsWith(".yaml")).sorted().toList().stream();
    }
  }

  /** Editors check driver files by the schema, so it must take what the reader takes. */
  @ParameterizedTest
  @MethodSource("shipped")
  void theSchemaTakesWhatIsShipped(Path file) throws Exception {
    String schema = JsonSchema.print("driver", DriverForms.DRIVER);
    var validator =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12).getSchema(schema);
    Object yaml =
        new org.snakeyaml.engine.v2.api.Load(settings()).loadFromString(Files.readString(file));
    String json = new ObjectMapper().writeValueAsString(yaml);
    assertEquals(List.of(), validator.validate(json, InputFormat.JSON));
  }

  private static org.snakeyaml.engine.v2.api.LoadSettings settings() {
    return org.snakeyaml.engine.v2.api.LoadSettings.builder().build();
  }
}
