// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.Schema;
import javax.xml.validation.SchemaFactory;
import millrace.exchange.dcc.DigitalCertificate;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.bootstrap.DOMImplementationRegistry;
import org.w3c.dom.ls.DOMImplementationLS;
import org.w3c.dom.ls.LSInput;

/** Digital certificates of runs, held to the published schema where its files are. */
class DigitalCertificateExportIT {
  private static final Map<String, String> FILES =
      Map.of(
          "https://ptb.de/dcc", "dcc_3_2_0.xsd",
          "https://ptb.de/si", "dsi_2_1_0.xsd",
          "http://www.w3.org/2000/09/xmldsig#", "ds_0_1.xsd");

  @TempDir private static Path folder;
  private static String book = "";

  @BeforeAll
  static void measure() throws IOException {
    book = folder.resolve("a.db").toString();
    Path sheet =
        Files.writeString(
            folder.resolve("k.yaml"),
            """
            datasheet: K <&> "kind"
            decision: {rule: guarded four outcomes}
            ranges: {1mA: {nominal: 1 mA}}
            limits:
              - {quantity: current_error, range: 1mA, lower: -14 ppm, upper: 14 ppm,
                 when: {terminal voltage: [0 V, 3 V]}}
              - {quantity: load_regulation, range: 1mA, lower: -5 ppm/V, upper: 5 ppm/V}
              - {quantity: tempco, range: all, upper: 3 ppm/K}
            """);
    StringBuilder rows =
        new StringBuilder(
            "unit,range,nominal_A,load_ohm,temperature_degC,current_A,u_current_A,taken_at\n");
    for (int load : new int[] {0, 1000, 2000, 3000}) {
      rows.append(
          "K-1,1mA,0.001,%s,23,1.00001%se-3,1e-9,2026-02-10T09:00:00+01:00\n"
              .formatted(load, load / 1000));
    }
    Path csv = Files.writeString(folder.resolve("k.csv"), rows);
    done("import", csv.toString(), "--datasheet", sheet.toString(), "--logbook", book);
    done(
        "import",
        "examples/fx-3-by-hand.csv",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
    done(
        "run",
        "sequences/quick-look.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
  }

  private static void done(String... words) {
    Spoken said = Spoken.by(words);
    assertTrue(said.code() == 0 || said.code() == 7 || said.code() == 1, said.err());
  }

  private static Spoken export(String run, Path file, String... more) {
    List<String> words = new ArrayList<>(List.of("export", run, "--dcc", "-o", file.toString()));
    words.addAll(List.of("--logbook", book, "--laboratory", "examples/osk.laboratory.yaml"));
    words.addAll(List.of(more));
    return Spoken.by(words.toArray(String[]::new));
  }

  private static Path written(String name, String... more) {
    Path file = folder.resolve(name);
    List<String> words = new ArrayList<>(List.of("--customer", "Osk Harbour Works"));
    words.addAll(List.of("--customer", "Pier 3, Osk", "--issued", "2026-12-01"));
    words.addAll(List.of(more));
    Spoken said = export("1", file, words.toArray(String[]::new));
    assertEquals(0, said.code(), said.err());
    return file;
  }

  /** A key store that needs no password, so that no variable of the environment is needed. */
  private static Path keys(String algorithm)
      throws IOException, InterruptedException, GeneralSecurityException {
    Path locked = folder.resolve(algorithm + "-locked.p12");
    Path keys = folder.resolve(algorithm + ".p12");
    if (Files.exists(keys)) {
      return keys;
    }
    Process made =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString(),
                "-genkeypair",
                "-alias",
                "lab",
                "-keyalg",
                algorithm,
                "-dname",
                "CN=Fennick Instruments",
                "-storetype",
                "PKCS12",
                "-storepass",
                "changeit",
                "-keystore",
                locked.toString())
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("keytool.txt").toFile())
            .start();
    assertEquals(0, made.waitFor());
    char[] password = "changeit".toCharArray();
    KeyStore from = KeyStore.getInstance(locked.toFile(), password);
    KeyStore to = KeyStore.getInstance("PKCS12");
    to.load(null, null);
    to.setKeyEntry(
        "lab", from.getKey("lab", password), new char[0], from.getCertificateChain("lab"));
    try (OutputStream out = Files.newOutputStream(keys)) {
      to.store(out, new char[0]);
    }
    return keys;
  }

  /** With the validator of the JDK, against DCC 3.2.0 and D-SI 2.1.0 as published. */
  @ParameterizedTest
  @ValueSource(strings = {"plain", "RSA", "EC"})
  void holdsToThePublishedSchema(String kind) throws Exception {
    Path schemas = schemas();
    Path file =
        kind.equals("plain")
            ? written("valid.xml")
            : written(kind + "-valid.xml", "--sign-with", keys(kind).toString());
    schema(schemas).newValidator().validate(new StreamSource(file.toFile()));
  }

  /** With another validator, libxml2's, where xmllint is on the machine. */
  @ParameterizedTest
  @ValueSource(strings = {"plain", "EC"})
  void anotherValidatorFindsItValidToo(String kind) throws Exception {
    Path published = schemas();
    Path schemas = Files.createDirectories(folder.resolve("schemas"));
    for (String name : FILES.values()) {
      String text = Files.readString(published.resolve(name));
      Files.writeString(schemas.resolve(name), beside(text));
    }
    Path file =
        kind.equals("plain")
            ? written("other.xml")
            : written(kind + "-other.xml", "--sign-with", keys(kind).toString());
    assertEquals(0, xmllint(schemas.resolve("dcc_3_2_0.xsd"), file));
    Path wrong =
        Files.writeString(
            folder.resolve("wrong-too.xml"),
            Files.readString(file).replace(">2026-02-10<", ">February<"));
    assertEquals(3, xmllint(schemas.resolve("dcc_3_2_0.xsd"), wrong));
  }

  /** The schema names the others by addresses; here they stand beside it. */
  private static String beside(String schema) {
    String text = schema;
    for (Map.Entry<String, String> other : FILES.entrySet()) {
      text =
          text.replaceAll(
              "(namespace=\"" + other.getKey() + "\"\\s+schemaLocation=)\"[^\"]+\"",
              "$1\"" + other.getValue() + "\"");
    }
    return text;
  }

  private static int xmllint(Path schema, Path file) throws InterruptedException {
    try {
      return new ProcessBuilder(
              "xmllint", "--noout", "--nonet", "--schema", schema.toString(), file.toString())
          .redirectErrorStream(true)
          .redirectOutput(ProcessBuilder.Redirect.DISCARD)
          .start()
          .waitFor();
    } catch (IOException e) {
      return assumptionFailed("xmllint is not on this machine");
    }
  }

  private static int assumptionFailed(String why) {
    assumeTrue(false, why);
    return -1;
  }

  @Test
  void theSchemaThatItIsHeldToRefusesAnother() throws Exception {
    Path schemas = schemas();
    Path wrong =
        Files.writeString(
            folder.resolve("wrong.xml"),
            Files.readString(written("right.xml")).replace(">2026-02-10<", ">February<"));
    assertThrows(
        org.xml.sax.SAXException.class,
        () -> schema(schemas).newValidator().validate(new StreamSource(wrong.toFile())));
  }

  private static Path schemas() {
    String named = System.getProperty("millrace.dcc", "");
    assumeTrue(!named.isEmpty(), "-Dmillrace.dcc=FOLDER names where the published schema is");
    return Path.of(named);
  }

  private static Schema schema(Path schemas) throws Exception {
    SchemaFactory factory = SchemaFactory.newDefaultInstance();
    factory.setProperty(XMLConstants.ACCESS_EXTERNAL_DTD, "");
    DOMImplementationLS load =
        (DOMImplementationLS) DOMImplementationRegistry.newInstance().getDOMImplementation("LS");
    factory.setResourceResolver(
        (type, namespace, publicId, systemId, baseUri) -> {
          String name = FILES.get(namespace);
          if (name == null) {
            return null;
          }
          LSInput input = load.createLSInput();
          input.setSystemId(systemId);
          input.setByteStream(open(schemas.resolve(name)));
          return input;
        });
    return factory.newSchema(schemas.resolve("dcc_3_2_0.xsd").toFile());
  }

  private static InputStream open(Path file) {
    try {
      return Files.newInputStream(file);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  @Test
  void saysResultsWithUAndKLimitsAndWhetherTheyAreMet() throws Exception {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultNSInstance();
    Document document = factory.newDocumentBuilder().parse(written("said.xml").toFile());
    Element error = result(document, "1mA, current error");
    assertEquals("1.7", text(error, "uncertainty"));
    assertEquals("2.00", text(error, "coverageFactor"));
    assertEquals("0.9545", text(error, "coverageProbability"));
    assertEquals("\\ppm", text(error, "unit"));
    assertTrue(error.getTextContent().contains("lower limit-14.0\\ppm"), error.getTextContent());
    assertEquals("conditionalPass", text(error, "conformity"));
    Element missing = result(document, "tempco");
    assertTrue(missing.getTextContent().contains("not computed: 1 temperature"));
    assertEquals(0, missing.getElementsByTagNameNS("*", "conformity").getLength());
    assertEquals("K <&> \"kind\"", text(document.getDocumentElement(), "model"));
  }

  private static Element result(Document document, String name) {
    for (int i = 0; ; i++) {
      Element result = (Element) document.getElementsByTagNameNS("*", "result").item(i);
      if (result == null) {
        throw new AssertionError("no result " + name);
      }
      if (text(result, "content").endsWith(name)) {
        return result;
      }
    }
  }

  private static String text(Element in, String name) {
    return in.getElementsByTagNameNS("*", name).item(0).getTextContent();
  }

  @Test
  void isReadBackByTheReaderOfCertificates() {
    DigitalCertificate read = DigitalCertificate.read(written("back.xml", "--number", "C-7"));
    assertEquals("C-7", read.number());
    assertEquals(List.of("K-1"), read.items());
    assertEquals("Fennick Instruments, calibration room", read.laboratory());
    assertEquals("2026-02-10", read.calibrated().orElseThrow().toString());
    assertEquals(Optional.empty(), read.signer());
  }

  @ParameterizedTest
  @ValueSource(strings = {"RSA", "EC"})
  void aSignatureIsCheckedAgainAndTellsOfAnyChange(String algorithm) throws Exception {
    Path file = written(algorithm + ".xml", "--sign-with", keys(algorithm).toString());
    assertEquals(Optional.of("CN=Fennick Instruments"), DigitalCertificate.read(file).signer());
    String changed = Files.readString(file).replace(">1.7<", ">1.6<");
    assertFalse(changed.equals(Files.readString(file)));
    String said =
        assertThrows(
                BadInputException.class,
                () -> DigitalCertificate.read("c.xml", changed.getBytes(UTF_8)))
            .getMessage();
    assertTrue(said.contains("the file is not as it was signed"), said);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "1 |                | --customer: no customer is named; expected one, which the schema asks"
            + " for.",
        "2 | --customer=Osk | its file of readings states no day; expected 'taken_at'",
        "3 | --customer=Osk | run 3: it was simulated, so no real unit stands behind it",
        "1 | --sign-with=nowhere.p12 | --sign-with nowhere.p12: it cannot be opened with the"
            + " password",
        "1 | --pack=a.mlr | --dcc goes with none of --pack, --tables, --parquet, --constants",
      })
  void saysWhatIsWanting(String run, String option, String words) {
    Path file = folder.resolve("none.xml");
    Spoken said = option == null ? export(run, file) : export(run, file, option);
    assertEquals(2, said.code());
    assertTrue(said.err().contains(words), said.err());
    assertFalse(Files.exists(file));
  }

  @Test
  void whatOnlyACertificateTakesIsRefusedElsewhere() {
    Spoken said = Spoken.by("export", "1", "--customer", "Osk", "--logbook", book);
    assertEquals(2, said.code());
    assertTrue(said.err().contains("--customer goes with --dcc"), said.err());
  }
}
