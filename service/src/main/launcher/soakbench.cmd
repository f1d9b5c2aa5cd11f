@echo off
rem Runs Soakbench, whose soakbench.jar lies beside this file. Its heap is bounded, and Java's
rem second compiler stays out, which pays for hundreds of trackers:
rem   set SOAKBENCH_HEAP=1g                             for more than half a gigabyte
rem   set SOAKBENCH_JAVA=-XX:TieredStopAtLevel=4        with the second compiler
rem   set SOAKBENCH_JAVA=...                            other options of Java
setlocal
set "jar=%~dp0soakbench.jar"
set "java=java"
if defined JAVA_HOME set "java=%JAVA_HOME%\bin\java"
if not defined SOAKBENCH_HEAP set "SOAKBENCH_HEAP=512m"
if not exist "%jar%" (
  echo soakbench: there is no %jar%; build it ^(mvn -q -DskipTests package^) or put it there 1>&2
  exit /b 127
)
"%java%" -Xmx%SOAKBENCH_HEAP% -XX:TieredStopAtLevel=1 %SOAKBENCH_JAVA% -jar "%jar%" %*
