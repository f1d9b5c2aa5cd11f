package soakbench.api.sheet;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * A real spreadsheet without a window, in a language of one's own: opens files, asks what their
 * cells ask for, recalculates, and saves all cells with their types.
 */
final class LibreOffice {
  private static final Path PROGRAM =
      Path.of(System.getProperty("soakbench.test.soffice", "/usr/bin/soffice"));

  private static final int PATIENCE_S = 120;

  private static final String LIBRARY =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
      <library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard"
       library:readonly="false" library:passwordprotected="false">
       <library:element library:name="Sheets"/>
      </library:library>
      """;

  private static final String LIBRARIES =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
      <library:libraries xmlns:library="http://openoffice.org/2000/library"
       xmlns:xlink="http://www.w3.org/1999/xlink">
       <library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/script.xlb/"
        xlink:type="simple" library:link="false"/>
      </library:libraries>
      """;

  /**
   * Links are asked only where somebody says so, and where the file lies in a trusted place: a
   * person is asked at opening.
   */
  private static final String MACROS =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
      <script:module xmlns:script="http://openoffice.org/2000/script" script:name="Sheets"
       script:language="StarBasic">
      Function P(n As String, v As Variant) As Object
        Dim x As New com.sun.star.beans.PropertyValue
        x.Name = n : x.Value = v
        P = x
      End Function
      Sub Convert(src As String, options As String)
        Dim d As Object, how As Variant
        If options = "" Then
          how = Array(P("Hidden", True), P("UpdateDocMode", 3))
        Else
          how = Array(P("Hidden", True), P("FilterName", "Text - txt - csv (StarCalc)"), P("FilterOptions", options))
        End If
        d = StarDesktop.loadComponentFromURL(src, "_blank", 0, how)
        createUnoService("com.sun.star.frame.DispatchHelper").executeDispatch(d.CurrentController.Frame, ".uno:UpdateTableLinks", "", 0, Array())
        d.calculateAll()
        d.storeToURL(src &amp; ".fods", Array(P("FilterName", "OpenDocument Spreadsheet Flat XML")))
        d.close(True)
      End Sub
      Sub All
      %s
      End Sub
      </script:module>
      """;

  /** A first start would put its own library in the place of ours. */
  private static final String SETTINGS =
      """
      <?xml version="1.0" encoding="UTF-8"?>
      <oor:items xmlns:oor="http://openoffice.org/2001/registry">
      <item oor:path="/org.openoffice.Office.Calc/Content/Update"><prop oor:name="Link" oor:op="fuse"><value>0</value></prop></item>
      <item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="SecureURL" oor:op="fuse"><value><it>file://%s</it></value></prop></item>
      <item oor:path="/org.openoffice.Setup/Office"><prop oor:name="ooSetupInstCompleted" oor:op="fuse"><value>true</value></prop></item>
      <item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>%s</value></prop></item>
      </oor:items>
      """;

  private LibreOffice() {}

  /**
   * A file to open.
   *
   * @param options how CSV is read, as the import dialog would ask; empty for a workbook
   */
  record Input(Path file, String options) {

    Path saved() {
      return file.resolveSibling(file.getFileName() + ".fods");
    }
  }

  /** Whether it is installed; says so in one clear line where not, and its tests are skipped. */
  static boolean isThere() {
    if (Files.isExecutable(PROGRAM)) {
      return true;
    }
    System.err.println(
        "Spreadsheet tests are skipped: "
            + PROGRAM
            + " is not there. Install libreoffice-calc, or give -Dsoakbench.test.soffice.");
    return false;
  }

  /** Opens files, recalculates and saves each beside itself. */
  static void convert(Path folder, String locale, List<Input> inputs) throws Exception {
    Path profile = Files.createDirectories(folder.resolve("profile-" + locale));
    Path basic = Files.createDirectories(profile.resolve("user/basic/Standard"));
    StringBuilder calls = new StringBuilder();
    inputs.forEach(
        i -> calls.append("  Convert \"%s\", \"%s\"%n".formatted(i.file().toUri(), i.options())));
    Files.writeString(basic.resolve("script.xlb"), LIBRARY);
    Files.writeString(basic.resolve("Sheets.xba"), MACROS.formatted(calls));
    Files.writeString(basic.resolveSibling("script.xlc"), LIBRARIES);
    Files.writeString(
        profile.resolve("user/registrymodifications.xcu"),
        SETTINGS.formatted(folder.toAbsolutePath(), locale));
    run(folder, profile);
    for (Input input : inputs) {
      if (!Files.exists(input.saved())) {
        throw new IOException(
            "not saved: " + input + "; it said " + Files.readString(folder.resolve("said")));
      }
    }
  }

  private static void run(Path folder, Path profile) throws Exception {
    Process process =
        new ProcessBuilder(
                PROGRAM.toString(),
                "-env:UserInstallation=file://" + profile.toAbsolutePath(),
                "--headless",
                "macro:///Standard.Sheets.All")
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("said").toFile())
            .start();
    if (!process.waitFor(PATIENCE_S, TimeUnit.SECONDS)) {
      process.descendants().forEach(ProcessHandle::destroyForcibly);
      process.destroyForcibly();
      throw new IOException(
          "did not end within "
              + PATIENCE_S
              + " s; it said "
              + Files.readString(folder.resolve("said"), StandardCharsets.UTF_8));
    }
  }
}
