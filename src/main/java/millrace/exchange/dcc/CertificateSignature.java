// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.security.cert.X509Certificate;
import java.util.List;
import java.util.Optional;
import javax.xml.crypto.MarshalException;
import javax.xml.crypto.dom.DOMStructure;
import javax.xml.crypto.dsig.Reference;
import javax.xml.crypto.dsig.Transform;
import javax.xml.crypto.dsig.XMLSignature;
import javax.xml.crypto.dsig.XMLSignatureException;
import javax.xml.crypto.dsig.XMLSignatureFactory;
import javax.xml.crypto.dsig.dom.DOMValidateContext;
import javax.xml.crypto.dsig.keyinfo.X509Data;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.SAXException;
import org.xml.sax.helpers.DefaultHandler;

/**
 * Checks whether a whole file is unchanged since it was signed. The key is the one that the file
 * itself names; its owner must be confirmed from another source. Only an enveloped signature over
 * the whole document counts, since another may cover a part that nobody reads. Stateless,
 * thread-safe.
 *
 * @param signer the name in the certificate of the key; empty where it cannot be checked
 * @param whole true if the file is unchanged since it was signed
 */
record CertificateSignature(Optional<String> signer, boolean whole) {
  /** The transformations allowed before a document is hashed. */
  private static final List<String> HARMLESS =
      List.of(
          Transform.ENVELOPED,
          "http://www.w3.org/TR/2001/REC-xml-c14n-20010315",
          "http://www.w3.org/2001/10/xml-exc-c14n#");

  /** A parsed file without a document type. */
  static CertificateSignature of(byte[] bytes) {
    try {
      Document document = document(bytes);
      NodeList found = document.getElementsByTagNameNS(XMLSignature.XMLNS, "Signature");
      if (found.getLength() != 1
          || found.item(0).getParentNode() != document.getDocumentElement()) {
        return new CertificateSignature(Optional.empty(), false);
      }
      XMLSignatureFactory factory = XMLSignatureFactory.getInstance("DOM");
      XMLSignature parsed = factory.unmarshalXMLSignature(new DOMStructure(found.item(0)));
      return checked(parsed, (Element) found.item(0));
    } catch (MarshalException
        | XMLSignatureException
        | SAXException
        | IOException
        | ParserConfigurationException
        | ClassCastException e) {
      return new CertificateSignature(Optional.empty(), false);
    }
  }

  private static Document document(byte[] bytes)
      throws ParserConfigurationException, SAXException, IOException {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultNSInstance();
    factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
    DocumentBuilder builder = factory.newDocumentBuilder();
    builder.setErrorHandler(new DefaultHandler());
    return builder.parse(new ByteArrayInputStream(bytes));
  }

  private static CertificateSignature checked(XMLSignature signature, Element element)
      throws XMLSignatureException {
    Optional<X509Certificate> certificate = certificate(signature);
    if (certificate.isEmpty() || !coversAll(signature)) {
      return new CertificateSignature(Optional.empty(), false);
    }
    DOMValidateContext context = new DOMValidateContext(certificate.get().getPublicKey(), element);
    context.setProperty("org.jcp.xml.dsig.secureValidation", true);
    return new CertificateSignature(
        Optional.of(certificate.get().getSubjectX500Principal().getName()),
        signature.validate(context));
  }

  private static Optional<X509Certificate> certificate(XMLSignature signature) {
    return signature.getKeyInfo() == null
        ? Optional.empty()
        : signature.getKeyInfo().getContent().stream()
            .filter(X509Data.class::isInstance)
            .flatMap(d -> ((X509Data) d).getContent().stream())
            .filter(X509Certificate.class::isInstance)
            .map(X509Certificate.class::cast)
            .findFirst();
  }

  private static boolean coversAll(XMLSignature signature) {
    List<Reference> references = signature.getSignedInfo().getReferences();
    return references.size() == 1
        && "".equals(references.get(0).getURI())
        && references.get(0).getTransforms().stream()
            .allMatch(t -> HARMLESS.contains(t.getAlgorithm()));
  }
}
