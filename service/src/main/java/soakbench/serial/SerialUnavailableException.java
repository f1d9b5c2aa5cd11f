package soakbench.serial;

/** Serial ports can't be used on this computer at all; the message says what to do. */
public final class SerialUnavailableException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  SerialUnavailableException(LinkageError cause) {
    super(
        "serial ports can't be used: the library's native code could not be loaded from "
            + System.getProperty("java.io.tmpdir")
            + "; start java with -Djava.io.tmpdir=FOLDER, a folder that is writable and not"
            + " mounted noexec",
        cause);
  }
}
