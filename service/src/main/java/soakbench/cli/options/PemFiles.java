package soakbench.cli.options;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.Signature;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.security.spec.InvalidKeySpecException;
import java.security.spec.PKCS8EncodedKeySpec;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

/** Reads a certificate and its private key from PEM files (RFC 7468). */
public final class PemFiles {
  private static final Pattern KEY =
      Pattern.compile("-----BEGIN ([A-Z ]*)PRIVATE KEY-----([^-]*)-----END \\1PRIVATE KEY-----");

  /** Kinds of keys, each with a signature that shows whether a key belongs to a certificate. */
  private static final Map<String, String> SIGNATURES =
      Map.of("RSA", "SHA256withRSA", "EC", "SHA256withECDSA", "EdDSA", "EdDSA");

  private PemFiles() {}

  /**
   * The key under the name "service", with its chain of certificates and an empty password.
   *
   * @param certificate file with the certificate, then those that vouch for it
   * @param key file with the private key, PKCS #8, not encrypted
   * @throws CommandException if a file does not hold that, or the two do not belong together
   */
  public static KeyStore read(Path certificate, Path key) throws IOException {
    List<Certificate> chain = certificates(certificate);
    PrivateKey secret = key(key);
    try {
      requireMatch(secret, chain.get(0), key, certificate);
      KeyStore store = KeyStore.getInstance("PKCS12");
      store.load(null, null);
      store.setKeyEntry("service", secret, new char[0], chain.toArray(Certificate[]::new));
      return store;
    } catch (GeneralSecurityException e) {
      throw new CommandException(
          certificate + " and " + key + " can't be used: " + e.getMessage(), e);
    }
  }

  /**
   * The certificates of a file, at least one.
   *
   * @throws CommandException if there is none
   */
  static List<Certificate> certificates(Path file) throws IOException {
    byte[] text = Files.readAllBytes(file);
    try {
      CertificateFactory factory = CertificateFactory.getInstance("X.509");
      List<Certificate> chain =
          List.copyOf(factory.generateCertificates(new ByteArrayInputStream(text)));
      if (!chain.isEmpty()) {
        return chain;
      }
    } catch (GeneralSecurityException e) {
      throw new CommandException(
          file + " holds no certificate that can be read: give one in PEM form", e);
    }
    throw new CommandException(file + " holds no certificate: give one in PEM form");
  }

  /**
   * Trusts the certificates of a file and no others.
   *
   * @throws CommandException if it holds none
   */
  public static SSLContext trusting(Path certificate) throws IOException {
    try {
      KeyStore trusted = KeyStore.getInstance("PKCS12");
      trusted.load(null, null);
      for (Certificate each : certificates(certificate)) {
        trusted.setCertificateEntry("trusted-" + trusted.size(), each);
      }
      TrustManagerFactory trust =
          TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
      trust.init(trusted);
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(null, trust.getTrustManagers(), null);
      return context;
    } catch (GeneralSecurityException e) {
      throw new CommandException(certificate + " can't be trusted: " + e.getMessage(), e);
    }
  }

  private static PrivateKey key(Path file) throws IOException {
    Matcher found = KEY.matcher(Files.readString(file, StandardCharsets.ISO_8859_1));
    if (!found.find()) {
      throw new CommandException(file + " holds no private key: give one in PEM form");
    }
    if (!found.group(1).isEmpty()) {
      throw new CommandException(
          file
              + " holds a key of the form \""
              + found.group(1).strip()
              + " PRIVATE KEY\"; only plain \"PRIVATE KEY\" is read: openssl pkcs8 -topk8 -nocrypt"
              + " -in "
              + file
              + " -out NEW-FILE makes that");
    }
    return key(file, found.group(2));
  }

  private static PrivateKey key(Path file, String base64) {
    for (String kind : SIGNATURES.keySet()) {
      try {
        byte[] bytes = Base64.getMimeDecoder().decode(base64);
        return KeyFactory.getInstance(kind).generatePrivate(new PKCS8EncodedKeySpec(bytes));
      } catch (InvalidKeySpecException e) {
        // Not of this kind; the file does not say which it is.
      } catch (GeneralSecurityException | IllegalArgumentException e) {
        throw new CommandException(file + " holds a private key that can't be read", e);
      }
    }
    throw new CommandException(
        file + " holds a private key that is neither RSA nor EC nor Ed25519");
  }

  private static void requireMatch(
      PrivateKey key, Certificate certificate, Path keyFile, Path certificateFile)
      throws GeneralSecurityException {
    byte[] message = {1, 2, 3};
    String kind = key.getAlgorithm();
    boolean same = kind.equals(certificate.getPublicKey().getAlgorithm());
    if (!same || !verified(SIGNATURES.get(kind), key, certificate, message)) {
      throw new CommandException(
          "the key in "
              + keyFile
              + " is not that of the first certificate in "
              + certificateFile
              + ": give the pair that was made together");
    }
  }

  private static boolean verified(
      String algorithm, PrivateKey key, Certificate certificate, byte[] message)
      throws GeneralSecurityException {
    Signature signing = Signature.getInstance(algorithm);
    signing.initSign(key);
    signing.update(message);
    byte[] signature = signing.sign();
    Signature checking = Signature.getInstance(algorithm);
    checking.initVerify(certificate.getPublicKey());
    checking.update(message);
    return checking.verify(signature);
  }
}
