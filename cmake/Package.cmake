# What an installation consists of, and the Debian package of it: `cpack -G DEB --config build/release/CPackConfig.cmake`.
# docs/operations.md is the page on it; tests/package.py holds what is said there.
include(GNUInstallDirs)
install(TARGETS footring footring-darkroom RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(DIRECTORY packs DESTINATION ${CMAKE_INSTALL_DATADIR}/footring)
install(DIRECTORY demo/cupboard DESTINATION ${CMAKE_INSTALL_DATADIR}/footring/demo)
install(DIRECTORY ui/dist DESTINATION ${CMAKE_INSTALL_DATADIR}/footring/ui OPTIONAL)
install(FILES docs/footring.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES README.md CHANGELOG.md docs/operations.md docs/sharing.md docs/security.md docs/backups.md
        DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(FILES packaging/footring.service DESTINATION lib/systemd/system)
install(FILES packaging/footring.default DESTINATION /etc/default RENAME footring)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME footring)
set(CPACK_PACKAGE_VENDOR Footring)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "evidence bench for factory-decorated dinnerware")
set(CPACK_PACKAGE_DESCRIPTION
"Names, dates and grades pieces of factory-decorated dinnerware from what can be seen of
them, with odds and sources; reads photographs; keeps the reference and the pieces; a web
app and a command line. Sends nothing anywhere.")
set(CPACK_PACKAGE_CONTACT "The authors of Footring <footring@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # the libraries, as the linker has them
# What is read while it runs: letters for reading marks, type and divisions for papers.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "tesseract-ocr-eng, fonts-ebgaramond, fonts-lato, hyphen-en-gb")
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
    "${CMAKE_SOURCE_DIR}/packaging/postinst;${CMAKE_SOURCE_DIR}/packaging/prerm;${CMAKE_SOURCE_DIR}/packaging/conffiles")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
include(CPack)
