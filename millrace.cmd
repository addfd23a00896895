@echo off
rem Starts Millrace on Windows. Untested: nobody has run this file on Windows yet.
rem Builds first where the jar is missing; after a change of the sources delete target\millrace.jar.
setlocal
set "home=%~dp0"
where java >nul 2>nul
if errorlevel 1 (
  echo millrace: no Java found; expected a JDK of version 17 or newer on PATH. Install one and try again. 1>&2
  exit /b 2
)
if not exist "%home%target\millrace.jar" (
  echo millrace: building 1>&2
  pushd "%home%"
  call mvn -q -B -Pquick -Dmaven.test.skip=true package 1>&2
  popd
)
if not exist "%home%target\millrace.jar" (
  echo millrace: the build failed, see above; nothing was run. 1>&2
  exit /b 2
)
java --enable-native-access=ALL-UNNAMED -XX:+UseSerialGC -Dfile.encoding=UTF-8 -Dstdout.encoding=UTF-8 -Dmillrace.home="%home%." -cp "%home%target\millrace.jar;%home%target\lib\*" millrace.cli.Main %*
exit /b %ERRORLEVEL%
