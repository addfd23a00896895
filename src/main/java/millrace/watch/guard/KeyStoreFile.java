// SPDX-License-Identifier: Apache-2.0
package millrace.watch.guard;

import java.io.IOException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** The user's own key and certificate for TLS. */
public final class KeyStoreFile {
  /** The environment variable with the password; other users could see a command line. */
  public static final String PASSWORD = "MILLRACE_KEY_STORE_PASSWORD";

  private KeyStoreFile() {}

  /**
   * Opens a key store.
   *
   * @param file a PKCS#12 or JKS file with one private key and its certificate
   * @param password the password; may be empty
   * @return the context of a TLS server
   * @throws BadInputException if the file is unreadable or has no key
   */
  public static SSLContext open(Path file, String password) {
    try {
      KeyStore store = KeyStore.getInstance(file.toFile(), password.toCharArray());
      KeyManagerFactory keys =
          KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
      keys.init(store, password.toCharArray());
      boolean any = false;
      for (String alias : java.util.Collections.list(store.aliases())) {
        any |= store.isKeyEntry(alias);
      }
      if (!any) {
        throw unusable(file, "it holds no private key");
      }
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(keys.getKeyManagers(), null, null);
      return context;
    } catch (IOException | GeneralSecurityException | IllegalArgumentException e) {
      throw unusable(file, "it cannot be opened with the password that is set");
    }
  }

  private static BadInputException unusable(Path file, String found) {
    return new BadInputException(
        new InputFault(
            FilePlace.of("--key-store " + file),
            found,
            "a PKCS#12 file with a private key and its certificate",
            "Set " + PASSWORD + " in the environment; 'keytool -genkeypair' makes such a file."));
  }
}
