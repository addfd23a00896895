// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.Key;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.cert.X509Certificate;
import java.util.Collections;
import java.util.List;
import javax.xml.crypto.MarshalException;
import javax.xml.crypto.dsig.CanonicalizationMethod;
import javax.xml.crypto.dsig.DigestMethod;
import javax.xml.crypto.dsig.Reference;
import javax.xml.crypto.dsig.SignedInfo;
import javax.xml.crypto.dsig.Transform;
import javax.xml.crypto.dsig.XMLSignatureException;
import javax.xml.crypto.dsig.XMLSignatureFactory;
import javax.xml.crypto.dsig.dom.DOMSignContext;
import javax.xml.crypto.dsig.keyinfo.KeyInfo;
import javax.xml.crypto.dsig.keyinfo.KeyInfoFactory;
import javax.xml.crypto.dsig.spec.C14NMethodParameterSpec;
import javax.xml.crypto.dsig.spec.TransformParameterSpec;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import org.w3c.dom.Document;

/**
 * A key that signs digital certificates: an enveloped signature over the whole document by XML
 * Signature Syntax and Processing (W3C, 2008 and 1.1), SHA-256, with the certificate of the key
 * inside.
 */
public final class CertificateSigningKey {
  private static final String RSA = "http://www.w3.org/2001/04/xmldsig-more#rsa-sha256";
  private static final String ELLIPTIC = "http://www.w3.org/2001/04/xmldsig-more#ecdsa-sha256";

  private final PrivateKey key;
  private final X509Certificate certificate;

  private CertificateSigningKey(PrivateKey key, X509Certificate certificate) {
    this.key = key;
    this.certificate = certificate;
  }

  /**
   * Takes the first private key out of a key store.
   *
   * @param option the option that gave it, for messages
   * @param file a PKCS#12 or JKS file
   * @param password the password; may be empty
   * @param variable the source of the password, for messages
   * @return the key
   * @throws BadInputException if it cannot be opened, or has no suitable key
   */
  public static CertificateSigningKey open(
      String option, Path file, String password, String variable) {
    try {
      KeyStore store = KeyStore.getInstance(file.toFile(), password.toCharArray());
      for (String alias : Collections.list(store.aliases())) {
        Key key = store.getKey(alias, password.toCharArray());
        if (key instanceof PrivateKey own
            && store.getCertificate(alias) instanceof X509Certificate certificate
            && List.of("RSA", "EC").contains(own.getAlgorithm())) {
          return new CertificateSigningKey(own, certificate);
        }
      }
      throw unusable(
          option + " " + file, "it holds no private key for RSA or elliptic curves", variable);
    } catch (IOException | GeneralSecurityException | IllegalArgumentException e) {
      throw unusable(
          option + " " + file, "it cannot be opened with the password that is set", variable);
    }
  }

  private static BadInputException unusable(String place, String found, String variable) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(place),
            found,
            "a PKCS#12 file with a private key and its certificate",
            "Set " + variable + " in the environment; 'keytool -genkeypair' makes such a file."));
  }

  /** Signs a document at its end. */
  void sign(Document document) {
    try {
      XMLSignatureFactory factory = XMLSignatureFactory.getInstance("DOM");
      Reference whole =
          factory.newReference(
              "",
              factory.newDigestMethod(DigestMethod.SHA256, null),
              List.of(factory.newTransform(Transform.ENVELOPED, (TransformParameterSpec) null)),
              null,
              null);
      SignedInfo info =
          factory.newSignedInfo(
              factory.newCanonicalizationMethod(
                  CanonicalizationMethod.INCLUSIVE, (C14NMethodParameterSpec) null),
              factory.newSignatureMethod(key.getAlgorithm().equals("RSA") ? RSA : ELLIPTIC, null),
              List.of(whole));
      KeyInfoFactory keys = factory.getKeyInfoFactory();
      KeyInfo by = keys.newKeyInfo(List.of(keys.newX509Data(List.of(certificate))));
      DOMSignContext context = new DOMSignContext(key, document.getDocumentElement());
      context.setDefaultNamespacePrefix("ds");
      factory.newXMLSignature(info, by).sign(context);
    } catch (GeneralSecurityException | MarshalException | XMLSignatureException e) {
      throw new IllegalStateException("a key of a kind that was looked at signs", e);
    }
  }
}
