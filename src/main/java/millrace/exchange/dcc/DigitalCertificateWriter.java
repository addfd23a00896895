// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javax.xml.transform.OutputKeys;
import javax.xml.transform.Transformer;
import javax.xml.transform.TransformerException;
import javax.xml.transform.TransformerFactory;
import javax.xml.transform.dom.DOMSource;
import javax.xml.transform.stream.StreamResult;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import org.w3c.dom.Document;

/**
 * Writes the digital calibration certificate of a run by the open schema DCC 3.2 with quantities by
 * D-SI 2.1: results with U, k and coverage, limits and conformity, influence conditions, equipment
 * with its certificates, method, rule of decision. It makes no judgement. Stateless; one thread at
 * a time per run.
 */
public final class DigitalCertificateWriter {
  private static final String VERSION = "3.2.0";

  private final CertificateDetails details;
  private final Assessment assessment;
  private final RunReader run;

  private DigitalCertificateWriter(
      CertificateDetails details, Assessment assessment, RunReader run) {
    this.details = details;
    this.assessment = assessment;
    this.run = run;
  }

  /**
   * Writes a certificate.
   *
   * @param details its own facts
   * @param assessment the assessment of the run
   * @param run the run
   * @param key signs it; empty: no signature
   * @return the file, UTF-8
   */
  public static byte[] written(
      CertificateDetails details,
      Assessment assessment,
      RunReader run,
      Optional<CertificateSigningKey> key) {
    Document document = new DigitalCertificateWriter(details, assessment, run).document();
    key.ifPresent(k -> k.sign(document));
    byte[] bytes = bytes(document);
    if (key.isPresent() && !CertificateSignature.of(bytes).whole()) {
      throw new IllegalStateException("what was signed is not what was written");
    }
    return bytes;
  }

  private Document document() {
    DccNode root = DccNode.root("dcc:digitalCalibrationCertificate");
    root.attribute("schemaVersion", VERSION);
    root.with("dcc:administrativeData", this::administration);
    root.with(
        "dcc:measurementResults",
        m ->
            m.with(
                "dcc:measurementResult",
                r -> new DigitalCertificateResults(assessment, run).write(r)));
    return root.document();
  }

  private void administration(DccNode node) {
    node.with("dcc:dccSoftware", this::software);
    node.with("dcc:coreData", this::core);
    node.with("dcc:items", items -> items.with("dcc:item", this::item));
    node.with("dcc:calibrationLaboratory", this::laboratory);
    node.with("dcc:respPersons", this::people);
    node.with("dcc:customer", this::customer);
    node.with("dcc:statements", this::statements);
  }

  private void software(DccNode node) {
    node.with(
        "dcc:software",
        s ->
            s.words("dcc:name", "Millrace")
                .add("dcc:release", assessment.run().start().millrace())
                .add("dcc:type", "application"));
  }

  private void core(DccNode core) {
    RunSummary summary = assessment.run();
    core.add("dcc:countryCodeISO3166_1", details.laboratory().country().orElseThrow())
        .add("dcc:usedLangCodeISO639_1", "en")
        .add("dcc:mandatoryLangCodeISO639_1", "en")
        .add("dcc:uniqueIdentifier", details.number())
        .with(
            "dcc:identifications",
            ids -> {
              ids.identification("calibrationLaboratory", summary.uuid().toString(), "run");
              ids.identification(
                  "calibrationLaboratory",
                  summary.digest().orElseGet(run::digest),
                  "SHA-256 of what was measured");
              details
                  .replaces()
                  .ifPresent(
                      n -> ids.identification("calibrationLaboratory", n, "replaces certificate"));
            })
        .add("dcc:beginPerformanceDate", details.begun().toString())
        .add("dcc:endPerformanceDate", details.ended().toString())
        .add("dcc:performanceLocation", "laboratory")
        .add("dcc:issueDate", details.issued().toString());
  }

  private void item(DccNode item) {
    String kind =
        assessment.basis().datasheet().map(Datasheet::name).orElse("of a kind not stated");
    item.words("dcc:name", "DC current source " + kind)
        .with("dcc:manufacturer", m -> m.words("dcc:name", "not stated"))
        .add("dcc:model", kind)
        .with(
            "dcc:identifications",
            ids ->
                ids.identification(
                    "manufacturer", assessment.run().start().unit(), "serial number"));
  }

  private void laboratory(DccNode node) {
    node.with(
        "dcc:contact",
        c ->
            c.words("dcc:name", details.laboratory().name())
                .with(
                    "dcc:location",
                    l -> {
                      l.add("dcc:countryCode", details.laboratory().country().orElseThrow());
                      List<String> lines = new ArrayList<>(details.laboratory().address());
                      details.laboratory().contact().ifPresent(lines::add);
                      l.words("dcc:further", lines.toArray(String[]::new));
                    }));
  }

  private void people(DccNode people) {
    people.with("dcc:respPerson", p -> person(p, details.releasedBy(), "released by", true));
    details
        .testedBy()
        .ifPresent(who -> people.with("dcc:respPerson", p -> person(p, who, "tested by", false)));
  }

  private static void person(DccNode node, String name, String role, boolean signer) {
    node.with("dcc:person", p -> p.words("dcc:name", name))
        .add("dcc:role", role)
        .add("dcc:mainSigner", Boolean.toString(signer));
  }

  private void customer(DccNode node) {
    List<String> lines = details.customer();
    List<String> address =
        lines.size() > 1 ? lines.subList(1, lines.size()) : List.of("not stated");
    node.words("dcc:name", lines.get(0))
        .with("dcc:location", l -> l.words("dcc:further", address.toArray(String[]::new)));
  }

  private void statements(DccNode node) {
    statement(node, "Calibrated at: " + details.place());
    statement(
        node,
        "The results relate only to the item tested, in the condition in which it was tested. This"
            + " certificate must not be reproduced except in full without the written consent of"
            + " the laboratory.");
    statement(
        node,
        details
            .laboratory()
            .accreditation()
            .map(a -> "Accreditation: " + a)
            .orElse("This certificate claims no accreditation."));
    details.laboratory().statement().ifPresent(s -> statement(node, s));
  }

  private static void statement(DccNode node, String words) {
    node.with("dcc:statement", s -> s.words("dcc:declaration", words));
  }

  private static byte[] bytes(Document document) {
    try {
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      Transformer plain = TransformerFactory.newDefaultInstance().newTransformer();
      // No indent: blanks added after the signature would break it.
      plain.setOutputProperty(OutputKeys.ENCODING, "UTF-8");
      plain.setOutputProperty(OutputKeys.STANDALONE, "yes");
      plain.transform(new DOMSource(document), new StreamResult(out));
      return out.toByteArray();
    } catch (TransformerException e) {
      throw new IllegalStateException("the JDK writes documents as they are", e);
    }
  }
}
