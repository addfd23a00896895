@echo off
rem Starts Millrace on Windows. Untested: nobody has run this file on Windows yet.
rem Builds first where the jar is missing; after a change of the sources delete target\millrace.jar.
setlocal
set "home=%~dp0"
if not exist "%home%target\millrace.jar" (
  echo millrace: building 1>&2
  pushd "%home%"
  call mvn -q -B -Pquick -Dmaven.test.skip=true package 1>&2
  popd
)
java -XX:+UseSerialGC -Dfile.encoding=UTF-8 -Dmillrace.home="%home%." -cp "%home%target\millrace.jar;%home%target\lib\*" millrace.cli.Main %*
exit /b %ERRORLEVEL%
