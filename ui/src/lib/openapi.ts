// Made from src/server/openapi.json by `npm run types`; do not edit.
// SPDX-License-Identifier: Apache-2.0
export interface paths {
    "/api/door": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Whether people sign in here, and who asks. */
        get: operations["door"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/door/sign-in": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Sign in; the answer sets a cookie that no script can read. 401: no such name with this password; 429: wait. */
        post: operations["signIn"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/door/sign-out": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** End this session. */
        post: operations["signOut"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/door/sign-out-everywhere": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** End every session of one's own account, this one too. */
        post: operations["signOutEverywhere"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/door/sessions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Where one's own account is signed in, the newest first. */
        get: operations["ownSessions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/door/password": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** Change one's own password; other sessions of the account end. */
        put: operations["changePassword"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/people": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Accounts, by name. */
        get: operations["people"];
        put?: never;
        /** Add an account. */
        post: operations["addPerson"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/people/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** Another role, another password (which ends the sessions of the account), or both. */
        put: operations["changePerson"];
        post?: never;
        /** Remove an account; what it did stays in the audit trail. 409: the last keeper. */
        delete: operations["removePerson"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/people/{name}/sign-out": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** End every session of an account. */
        post: operations["signOutPerson"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/backups": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Copies of the database that are kept beside it, the newest first. */
        get: operations["backups"];
        put?: never;
        /** Copy the database now, beside itself; photographs stay where they are. */
        post: operations["makeBackup"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/backups/{name}/check": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Read all of a backup and compare every checksum. */
        post: operations["checkBackup"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/backups/{name}/restore": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Bring a backup back, which is checked first; what is there now is kept as another. Everybody signs in anew. */
        post: operations["restoreBackup"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/audit": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Who did what, the newest first. */
        get: operations["audit"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/alive": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Whether the program runs and its store answers; for whoever watches over it. */
        get: operations["alive"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/health": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What runs here, over which packs and which folder. */
        get: operations["health"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/settings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every number that the reasoning assumes. */
        get: operations["settings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/openapi.json": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** This document. */
        get: operations["document"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/examine": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Name, date and grade a piece; nothing is stored. */
        post: operations["examine"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/apart": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What tells treatments apart on a form, and on which forms they differ. */
        post: operations["apart"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/key": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** An identification key of least expected effort. */
        get: operations["key"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/years": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What is known of the years of an ornament, shape, maker, glaze or treatment, or of one's own pieces. */
        get: operations["years"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/date": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Date a piece from everything that is known of it, each statement as far as its source is trusted. */
        post: operations["date"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/clues": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What the wording on an underside tells of when a piece was made. */
        post: operations["clues"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/code": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Read a code beside a mark by its scheme, or by all schemes whose ids begin so. */
        post: operations["code"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/code-schemes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every scheme of the open packs, with the marks that bear it. */
        get: operations["codeSchemes"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/care/cautions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What to be careful with, from what was seen of a piece. */
        post: operations["cautions"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/care/cautions/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The same of a piece of the Cupboard. */
        get: operations["cautionsOfKept"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/care/regimes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The published limits that results are compared with, each with its own rule. */
        get: operations["regimes"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/care/leach": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Hold a laboratory's results to each limit that fits the vessel; nothing is stored. */
        post: operations["leach"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sequence": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The year of undated numbers from the dated ones of a shape or maker. */
        get: operations["sequence"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/unseen": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How many treatments there are beyond those recorded, and the numbers to look for; decided pieces of the Cupboard count as sightings. */
        get: operations["unseen"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/assemblage": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Date pieces that came together: those named, those of a lot, or all of the Cupboard. */
        post: operations["assemblage"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/glyph": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** The piece drawn as far as it was seen. */
        post: operations["glyphOfPiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/glyph/treatment/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A treatment drawn from the reference. */
        get: operations["glyphOfTreatment"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/glyph/strip/{ornament}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The rim unrolled into a ribbon. */
        get: operations["rimStrip"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/drawing/{ornament}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The drawing of an ornament as the pack has it. */
        get: operations["drawing"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/book": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The open packs and how many rows they have. */
        get: operations["book"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/book/vocabulary": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Everything that a form to enter a piece needs. */
        get: operations["vocabulary"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/book/{table}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Rows of one table. */
        get: operations["table"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/book/{table}/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One row with where it is used and what is said of it. A dated use has no id: it is asked for by its number in the table, from 0. */
        get: operations["row"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which packs can be edited, and the columns of their tables. */
        get: operations["editing"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing/edits": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Edit rows and drawings of one pack, all or none. 409 when another program changed the pack since it was opened. */
        post: operations["editBook"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing/changes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The newest edits of the Book, newest first. */
        get: operations["bookChanges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing/changes/{change}/undo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take one edit back; 409 when its rows are not as it left them. */
        post: operations["undoEdit"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing/reload": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Read the packs from the disk again. When they have faults the Book stays as it was. */
        post: operations["reloadPacks"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/editing/{pack}/{table}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The rows of a table as they stand in its file. */
        get: operations["editRows"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/date-words": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What an EDTF date says in words. */
        get: operations["dateWords"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/reexaminations": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Pieces whose answers changed with the Book, as far as they were examined again: decided ones since their decision, the others since the last review. */
        get: operations["reexaminations"];
        put?: never;
        /** Examine every piece again, on a thread of its own; 409 while that goes on. */
        post: operations["reexamine"];
        /** Stop; what was found stays. */
        delete: operations["stopReexamining"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/reexaminations/{piece}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Accept the new answer of a piece, or keep its decision; either way it has been looked at with this Book. Of an undecided piece nothing is stored and nothing can be accepted. */
        post: operations["settleReexamined"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/search": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Pieces and rows of the Book, while one types. */
        get: operations["search"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Pieces that fit every filter. */
        get: operations["pieces"];
        put?: never;
        /** Add a piece; an empty id gets the next free one. */
        post: operations["addPiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/facets": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Values that occur in the Cupboard, for its filters. */
        get: operations["facets"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/bulk": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Change or remove several pieces: all of them or none. */
        post: operations["changeMany"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One piece. */
        get: operations["piece"];
        /** Change a piece. The revision has to be the one that was read: else 409. */
        put: operations["changePiece"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/decide": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Decide what a piece is; the engine's answer of this moment is kept beside. Without a treatment the decision is taken back. */
        post: operations["decide"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/history": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every change of a piece, newest first. */
        get: operations["history"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/photos": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Add a photograph: its bytes as they are, at most 80 MB and 60 megapixels. */
        post: operations["addPhoto"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/photos/{sha256}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        /** Take a photograph from a piece; this can be undone. */
        delete: operations["removePhoto"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The original bytes. */
        get: operations["photo"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/thumb": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The photograph, at most 480 px long. */
        get: operations["thumbnail"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/view": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The photograph as a browser can show it: upright, in sRGB, as JPEG. */
        get: operations["viewOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/read": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Read a photograph now; what a person gave for it before holds unless it is given anew. */
        post: operations["readPhoto"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/reading": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What was read from a photograph. */
        get: operations["readingOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/alike": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Other pieces whose photographs show a border like the one of this photograph, the likest first; whether or not a pack draws it. */
        get: operations["piecesWithABorderLikeIt"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/strip": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The rim unrolled into a ribbon, outwards up. */
        get: operations["stripOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/upright": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The piece from straight above. */
        get: operations["uprightOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/repeat": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The mean of the repeats of the border. */
        get: operations["repeatOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/photos/{sha256}/mark": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The mark set upright. */
        get: operations["markOfPhoto"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/photos/{sha256}/corrections": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** What a person mends of a reading, all of it at once; this can be undone. */
        put: operations["correctReading"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/suggestions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What all photographs of a piece suggest together, and who says so. */
        get: operations["suggestions"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/readings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The queue of photographs that are read, newest job first. */
        get: operations["readingJobs"];
        put?: never;
        /** Read many photographs one after another: those named, else all that nobody read with the open packs. */
        post: operations["readPhotos"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/readings/{job}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How far a job is. */
        get: operations["readingJob"];
        put?: never;
        post?: never;
        /** Stop a job; what was read stays. */
        delete: operations["stopReadingJob"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/services": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every service being built. */
        get: operations["services"];
        put?: never;
        /** Add a service; without an id it gets the next free one. */
        post: operations["addService"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/services/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One service with its composition looked up. */
        get: operations["service"];
        /** Change a service; 409 when the revision is not the one that was read. */
        put: operations["changeService"];
        post?: never;
        /** Remove a service. */
        delete: operations["removeService"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/services/{id}/why/{piece}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Why a piece may stand in a service, or may not, line by line. */
        get: operations["whyServes"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/compositions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One's own compositions, then those that come with the program. */
        get: operations["compositions"];
        put?: never;
        /** Add a composition. */
        post: operations["addComposition"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/compositions/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One composition. */
        get: operations["composition"];
        /** Change a composition of one's own; 409 when the revision is not the one that was read. */
        put: operations["changeComposition"];
        post?: never;
        /** Remove a composition; 409 while a service is made of it. */
        delete: operations["removeComposition"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The last allotments that were asked for, newest first, without their tables. */
        get: operations["allotments"];
        put?: never;
        /** Lay the cupboard out over the services, as a job. */
        post: operations["allot"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/compare": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How two allotments differ. */
        get: operations["compareAllotments"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/found": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What a piece that one does not have yet would complete. */
        post: operations["found"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One job, with its allotment when there is one. */
        get: operations["allotment"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/{id}/stop": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Stop a job; the best so far is kept. */
        post: operations["stopAllotment"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/{id}/tables/{service}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The laid table of one service. */
        get: operations["laidTable"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/{id}/wants": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What to look for, the cheapest next setting first. */
        get: operations["wants"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/allotments/{id}/parting": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Duplicates and strays to part with. */
        get: operations["parting"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/lots": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every lot. */
        get: operations["lots"];
        put?: never;
        /** Add a lot. */
        post: operations["addLot"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/lots/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /** Change a lot; 409 when the revision is not the one that was read. */
        put: operations["changeLot"];
        post?: never;
        /** Remove a lot without pieces; 409 while pieces are in it. */
        delete: operations["removeLot"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/changes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The newest changes. */
        get: operations["changes"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/changes/news": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What has changed since, as soon as something has, whoever changed it. */
        get: operations["news"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/changes/undo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Undo the newest change that can be undone. */
        post: operations["undoLatest"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/changes/{batch}/undo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Undo one change; 409 when something of it was changed since. */
        post: operations["undo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/papers": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The kinds of paper, and the sheets of labels that have a name. */
        get: operations["paperKinds"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/papers/{kind}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A paper to print or to send. */
        get: operations["paper"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/papers/schedule": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Estimates for an insurer, as a paper: no reader's business. */
        get: operations["schedulePaper"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/imports/tables": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Send a table (CSV, TSV, XLSX, ODS) or JSON of pieces, to be tried and brought in by its id. The newest few stay; nothing is stored. */
        post: operations["sendTable"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/imports/fields": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What a column may become, for each thing that a table may be brought into. */
        get: operations["importFields"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/imports": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How far the import is, or what the last one came to. */
        get: operations["importJob"];
        put?: never;
        /** Bring a table in, or try it, on a thread of its own; a small one is done when this answers. Nothing is stored when a row has a fault, unless keep_good is true. 409 while another is under way. */
        post: operations["import"];
        /** Stop; nothing of it is stored. An import that is being stored is ended by its end. */
        delete: operations["stopImport"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/export": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Every piece as a file; without private ones and what anything cost, unless private is true. */
        get: operations["export"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/linked-art": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A piece as Linked Art (JSON-LD). */
        get: operations["linkedArt"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/pieces/{id}/manifest": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A piece's photographs as a IIIF Presentation 3 manifest. */
        get: operations["manifest"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/letters": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Letters, the newest first. */
        get: operations["letters"];
        put?: never;
        /** Add a letter. */
        post: operations["addLetter"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/letters/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One letter. */
        get: operations["letter"];
        /** Change a letter. The revision has to be the one that was read: else 409. */
        put: operations["changeLetter"];
        post?: never;
        /** Remove a letter. Its pieces stay. */
        delete: operations["removeLetter"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/letters/{id}/reply": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** A reply from the reasoning about the letter's pieces. Nothing is stored. */
        post: operations["composeReply"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/letters/{id}/paper": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The reply as it is kept, set to be sent, with the likeliest of each piece drawn beside its photographs. */
        get: operations["replyAsPaper"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sightings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Decided pieces of answered letters whose person agreed that they are counted. */
        get: operations["sightings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sales": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Recorded sales. */
        get: operations["sales"];
        put?: never;
        /** Record a sale. */
        post: operations["addSale"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sales/vocabulary": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Words of sales, and currencies. */
        get: operations["salesVocabulary"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sales/export": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** All sales as CSV. */
        get: operations["exportSales"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sales/doubtful": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Records that may be wrong: several that may tell of one sale, and prices that look mistaken. */
        get: operations["doubtfulSales"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/sales/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One sale, with those that may be the same. */
        get: operations["sale"];
        /** Change a sale. The revision has to be the one that was read: else 409. */
        put: operations["changeSale"];
        post?: never;
        /** Remove a sale. */
        delete: operations["removeSale"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/estimate": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What a piece or a described thing may bring: one of piece_id, piece and thing. */
        post: operations["estimate"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/history": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Prices over the years of what is named. */
        get: operations["priceHistory"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/model": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What the sales say as a whole, and which records look mistaken. */
        get: operations["priceModel"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/portfolio": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What all pieces come to, year by year. */
        get: operations["portfolio"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/schedule": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Piece by piece: replacement and sale, kept apart. */
        get: operations["worthSchedule"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/haul": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** What a lot of pieces may bring, how high to bid, and the chance of a loss. */
        post: operations["haul"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/worth/lots/{id}/share": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Share the cost of a lot over its pieces by their worth; stored when `apply` is true. */
        post: operations["shareLotCost"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /** @enum {unknown} */
        RoleName: "reader" | "contributor" | "keeper";
        AtTheDoor: {
            shared: boolean;
            account: string | null;
            /** @enum {unknown} */
            role: "reader" | "contributor" | "keeper" | null;
        };
        Ended: {
            ended: number;
        };
        BackupInfo: {
            made: string;
            pieces: number;
            lots: number;
            photographs: number;
            with_photographs: boolean;
        };
        BackupRow: {
            name: string;
            bytes: number;
            /** @description What was there when another was brought back. */
            before_restoring: boolean;
            holds: components["schemas"]["BackupInfo"] | null;
            problem: components["schemas"]["Problem"] | null;
        };
        Person: {
            name: string;
            role: components["schemas"]["RoleName"];
            created: string;
            changed: string;
            sessions: number;
            seen: string | null;
            is_you: boolean;
        };
        PaperKinds: {
            kinds: {
                kind: string;
                title: string;
                sentence: string;
                /** @enum {unknown} */
                takes: "subject" | "pieces" | "piece" | "rows";
            }[];
            sheets: {
                name: string;
                /** @enum {unknown} */
                paper: "a4" | "letter";
                columns: number;
                rows: number;
                width_mm: number;
                height_mm: number;
            }[];
        };
        /** @description What half, and nine in ten, of such sales bring. */
        PriceInterval: {
            median: number;
            fifty: number[];
            ninety: number[];
        };
        /** @description docs/worth.md tells each member. */
        SaleInput: {
            id?: string;
            date: string;
            price: number;
            currency: string;
            form: string;
            treatment?: string;
            shape?: string;
            size_mm?: number;
            /** @enum {unknown} */
            condition?: "" | "mint" | "good" | "fair" | "poor" | "damaged";
            /** @enum {unknown} */
            grade?: "" | "first" | "second";
            venue?: string;
            /** @enum {unknown} */
            market?: "" | "auction" | "dealer" | "fair" | "online" | "private";
            source?: string;
            note?: string;
            revision?: number;
        };
        ComparedSale: {
            id: string;
            date: string;
            price: number;
            currency: string;
            form: string;
            treatment: string;
            shape: string;
            size_mm?: number;
            /** @enum {unknown} */
            condition: "" | "mint" | "good" | "fair" | "poor" | "damaged";
            /** @enum {unknown} */
            grade: "" | "first" | "second";
            venue: string;
            /** @enum {unknown} */
            market: "" | "auction" | "dealer" | "fair" | "online" | "private";
            source: string;
            note: string;
            date_words: string;
            form_name: string;
            treatment_number: string;
            treatment_name: string;
            shape_name: string;
        };
        SaleRow: {
            id: string;
            date: string;
            price: number;
            currency: string;
            form: string;
            treatment: string;
            shape: string;
            size_mm?: number;
            /** @enum {unknown} */
            condition: "" | "mint" | "good" | "fair" | "poor" | "damaged";
            /** @enum {unknown} */
            grade: "" | "first" | "second";
            venue: string;
            /** @enum {unknown} */
            market: "" | "auction" | "dealer" | "fair" | "online" | "private";
            source: string;
            note: string;
            date_words: string;
            form_name: string;
            treatment_number: string;
            treatment_name: string;
            shape_name: string;
            revision: number;
            created: string;
            changed: string;
            look_alikes?: string[];
        };
        LeftOut: {
            why: string;
            count: number;
        };
        BasedOn: {
            sales: number;
            first: number;
            last: number;
            left_out: components["schemas"]["LeftOut"][];
        };
        PossibleIdentity: {
            treatment: components["schemas"]["TreatmentNamed"] | null;
            words: string;
            /** @enum {unknown} */
            grade: "" | "first" | "second";
            probability: number;
            median?: number;
        };
        PriceTerm: {
            term: string;
            level: string;
            factor: number;
            low: number;
            high: number;
            sales: number;
            words: string;
        };
        Comparable: {
            sale: components["schemas"]["ComparedSale"];
            likeness: number;
            adjusted: number;
            counted: number;
            because: string[];
        };
        WorthEstimate: {
            title: string;
            currency: string;
            date: string;
            /** @enum {unknown} */
            market: "" | "auction" | "dealer" | "fair" | "online" | "private";
            /** @enum {unknown} */
            condition: "" | "mint" | "good" | "fair" | "poor" | "damaged";
            worth: components["schemas"]["PriceInterval"];
            words: string;
            identities: components["schemas"]["PossibleIdentity"][];
            base: {
                price: number;
                words: string;
            };
            terms: components["schemas"]["PriceTerm"][];
            comparables: components["schemas"]["Comparable"][];
            based_on: components["schemas"]["BasedOn"];
            defers: string;
            notes: string[];
        };
        PriceHistory: {
            title: string;
            currency: string;
            sales: {
                id: string;
                date: string;
                year: number;
                price: number;
                counted: number;
                /** @enum {unknown} */
                condition: "" | "mint" | "good" | "fair" | "poor" | "damaged";
                /** @enum {unknown} */
                grade: "" | "first" | "second";
                /** @enum {unknown} */
                market: "" | "auction" | "dealer" | "fair" | "online" | "private";
                words: string;
            }[];
            curve: {
                year: number;
                median: number;
                fifty: number[];
                ninety: number[];
            }[];
            words: string;
            defers: string;
            notes: string[];
        };
        DoubtfulSales: {
            repeats: {
                sales: components["schemas"]["SaleRow"][];
                /** @description They agree in everything but the id. */
                same: boolean;
                words: string;
            }[];
            mistaken: {
                sale: components["schemas"]["SaleRow"];
                counted: number;
                expected: components["schemas"]["PriceInterval"];
                words: string;
            }[];
            total: number;
            notes: string[];
        };
        PriceModel: {
            currency: string;
            sales: number;
            based_on: components["schemas"]["BasedOn"];
            terms: {
                term: string;
                levels: number;
                sd_percent: number;
            }[];
            trend: {
                percent_a_year: number;
                low: number;
                high: number;
            };
            noise_percent: number;
            junk_share: number;
            words: string;
            doubtful: {
                sale: components["schemas"]["ComparedSale"];
                counted: number;
                expected: components["schemas"]["PriceInterval"];
                words: string;
            }[];
            defers: string;
            notes: string[];
        };
        Portfolio: {
            currency: string;
            points: {
                date: string;
                year: number;
                pieces: number;
                priced: number;
                costed: number;
                cost: number;
                worth: components["schemas"]["PriceInterval"] | null;
            }[];
            groups: {
                form: components["schemas"]["Named"] | null;
                pieces: number;
                median: number;
            }[];
            without: {
                piece: string;
                why: string;
            }[];
            words: string;
            defers: string;
            notes: string[];
        };
        WorthSchedule: {
            currency: string;
            date: string;
            rows: {
                piece: string;
                words: string;
                form: components["schemas"]["Named"] | null;
                treatment: components["schemas"]["TreatmentNamed"] | null;
                probability: number;
                decided: boolean;
                place: string;
                /** @enum {unknown} */
                condition: "" | "mint" | "good" | "fair" | "poor" | "damaged";
                replacement: components["schemas"]["PriceInterval"];
                sale: components["schemas"]["PriceInterval"];
                cost: number | null;
            }[];
            totals: {
                replacement: components["schemas"]["PriceInterval"] | null;
                sale: components["schemas"]["PriceInterval"] | null;
                pieces: number;
                without: {
                    piece: string;
                    why: string;
                }[];
            };
            markets: {
                /** @enum {unknown} */
                replacement: "" | "auction" | "dealer" | "fair" | "online" | "private";
                /** @enum {unknown} */
                sale: "" | "auction" | "dealer" | "fair" | "online" | "private";
            };
            words: string;
            defers: string;
            notes: string[];
        };
        HaulAnswer: {
            currency: string;
            pieces_count: number;
            worth: components["schemas"]["PriceInterval"];
            mean: number;
            sales_after_costs: components["schemas"]["PriceInterval"];
            top_bid: number | null;
            top_bid_words: string;
            at_bid: {
                bid: number;
                outlay: number;
                loss_chance: number;
                margin_chance: number;
                mean_gain: number;
                gain: components["schemas"]["PriceInterval"];
            } | null;
            curve: {
                bid: number;
                outlay: number;
                loss_chance: number;
                margin_chance: number;
                mean_gain: number;
            }[];
            density: {
                from: number;
                to: number;
                share: number;
            }[];
            pieces: {
                index: number;
                words: string;
                count: number;
                worth: components["schemas"]["PriceInterval"];
                mean: number;
                share: number;
                cost_share: number;
                identities: components["schemas"]["PossibleIdentity"][];
            }[];
            based_on: components["schemas"]["BasedOn"];
            words: string;
            defers: string;
            notes: string[];
        };
        SharedCost: {
            currency: string;
            cost: number;
            rows: {
                piece: string;
                words: string;
                median: number;
                share: number;
                cost: number;
                before: number | null;
            }[];
            applied: boolean;
            batch: number | null;
            words: string;
            notes: string[];
        };
        SalesVocabulary: {
            conditions: {
                value: string;
                words: string;
            }[];
            markets: {
                value: string;
                words: string;
            }[];
            grades: string[];
            currencies: {
                code: string;
                name: string;
            }[];
            today: string;
        };
        LetterInput: {
            name?: string;
            address?: string;
            /** @description EDTF. */
            received?: string;
            subject?: string;
            text?: string;
            /** @enum {unknown} */
            state?: "new" | "asked" | "answered" | "closed";
            pieces?: string[];
            reply?: string;
            /** @description EDTF. */
            answered?: string;
            /** @description The person agrees that the pieces are counted among sightings. */
            sighting?: boolean;
            note?: string;
        };
        Letter: {
            name: string;
            address: string;
            /** @description EDTF. */
            received: string;
            subject: string;
            text: string;
            /** @enum {unknown} */
            state: "new" | "asked" | "answered" | "closed";
            pieces: string[];
            reply: string;
            /** @description EDTF. */
            answered: string;
            /** @description The person agrees that the pieces are counted among sightings. */
            sighting: boolean;
            note: string;
        };
        LetterRecord: {
            id: string;
            letter: components["schemas"]["Letter"];
            created: string;
            changed: string;
            revision: number;
        };
        Reply: {
            text: string;
            paragraphs: string[];
            /** @description Photographs to ask for next. */
            asks: string[];
        };
        Sighting: {
            piece: string;
            treatment: string;
            letter: string;
            /** @description EDTF. */
            seen: string;
        };
        /** @description What went wrong, said so that a person can mend it. */
        Problem: {
            /** @enum {unknown} */
            code: "bad-input" | "not-found" | "too-large" | "not-known" | "not-allowed" | "too-many" | "conflict" | "unreadable" | "store" | "our-fault";
            /** @description A field, a file with line and column, a header. */
            where: string;
            /** @description What is wrong, in one sentence. */
            what: string;
            /** @description What to do about it. */
            remedy: string;
        };
        Problems: {
            problems: components["schemas"]["Problem"][];
        };
        Named: {
            id: string;
            name: string;
        };
        NamedOrNull: components["schemas"]["Named"] | null;
        TreatmentNamed: {
            id: string;
            number: string;
            name: string;
        };
        /** @description A source as other rows name it. */
        Source: {
            id: string;
            title: string;
            trust: number | null;
        };
        /** @enum {unknown} */
        Place: "rim" | "verge" | "centre" | "edge" | "handle" | "lid" | "finial" | "body" | "inside" | "foot" | "underside";
        /**
         * @description How likely the look is right: 0.98, 0.85, 0.60 unless set otherwise.
         * @enum {unknown}
         */
        Sure: "sure" | "likely" | "guess";
        /** @description EDTF (ISO 8601-2:2019), or empty when nothing is recorded. */
        Years: string;
        /** @description A value with its sureness; a text alone is sure. */
        Seen: {
            value: string;
            sure?: components["schemas"]["Sure"];
        } | string;
        Look: {
            place: components["schemas"]["Place"];
            /** @description An ornament's id, none, something or worn. */
            value: string;
            sure?: components["schemas"]["Sure"];
        };
        /** @description One piece as it was seen: a piece file. A field left out was not looked at; fields that are not listed are ignored, and the answer says so in its notes. */
        Piece: {
            id?: string;
            form?: string;
            shape?: components["schemas"]["Seen"];
            glaze?: components["schemas"]["Seen"];
            /** @enum {unknown} */
            wear?: "none" | "light" | "moderate" | "heavy";
            looks?: components["schemas"]["Look"][];
            mark?: components["schemas"]["Seen"];
            /** @description As read; ? is one illegible character, * any run; or none. */
            number?: components["schemas"]["Seen"];
            date_code?: string;
            /** @enum {unknown} */
            faults?: "none" | "few" | "many";
            length_mm?: number;
            width_mm?: number;
            height_mm?: number;
            photos?: string[];
        };
        /** @description What the program says of a piece; the object of `footring examine --json`. The probabilities of the candidates and of open sum to 1, but for candidates below the setting least_shown. */
        Answer: {
            piece: string;
            candidates: {
                treatment: string;
                number: string;
                probability: number;
                /** @description Treatments that no look at this form can tell from it. */
                twins: string[];
            }[];
            open: {
                /** @description A treatment of a known shape that no pack lists. */
                unlisted: number;
                /** @description Made or decorated elsewhere. */
                elsewhere: number;
            };
            grade: {
                first: number;
                second: number;
            };
            date: {
                median: number;
                /** @description First and last year of the shortest run that holds 68 %. */
                hpd68: number[];
                hpd95: number[];
                edtf: string;
                by_year: {
                    first_year: number;
                    /** @description Probability of first_year, the year after it, and so on. */
                    p: number[];
                };
            };
            reasons: {
                look: string;
                value: string;
                /** @description 10 log10 of the likelihood of the best candidate against all the rest. */
                decibans: number;
                sources: string[];
                /** @description Rows of the packs, as treatment_ornaments.csv:31. */
                rows: string[];
            }[];
            next: {
                look: string;
                /** @description Expected fall of entropy over treatments. */
                bits: number;
                effort_min: number;
                effect: {
                    grade_bits: number;
                    year_bits: number;
                    bits_per_min: number;
                };
            }[];
            conflicts: {
                /** @description A minimal set that cannot all hold. */
                statements: string[];
            }[];
            verdict: string;
            notes: string[];
            cautions: components["schemas"]["Caution"][];
        };
        Decision: {
            /** @description Id of a treatment, unlisted or elsewhere. */
            treatment: string;
            /** @enum {unknown} */
            grade?: "first" | "second" | "";
            date?: components["schemas"]["Years"];
            note?: string;
        };
        Attribution: {
            answer: components["schemas"]["Answer"];
            /** @description pack@version digest, of every pack that was open. */
            packs: string;
            when: string;
        };
        Photo: {
            /** @description Of the original bytes: its name. */
            sha256: string;
            piece: string;
            name: string;
            type: string;
            bytes: number;
            /** @description px, after turning it as its EXIF says */
            width: number;
            height: number;
            added: string;
            corrections?: components["schemas"]["Corrections"];
        };
        /** @description What a person mended of a reading. */
        Corrections: {
            /** @description Counted by hand. */
            repeats?: number | null;
            /** @description The wording of the mark as a person reads it. */
            words?: string | null;
            accepted?: components["schemas"]["SuggestionName"][];
            refused?: components["schemas"]["SuggestionName"][];
        };
        SuggestionName: {
            /** @description A field of the piece file. */
            field: string;
            /** @description Of a look; else empty. */
            place?: string | null;
            value: string;
        };
        Ellipse: {
            centre_px: components["schemas"]["Point"];
            /** @description Semi-axes, longer first. */
            axes_px: components["schemas"]["Point"];
            /** @description Of the longer axis, from +x towards +y (y down). */
            angle_deg: number;
        };
        Point: number[];
        PointsOrNull: components["schemas"]["Point"][] | null;
        PairOrNull: number[] | null;
        /** @description What a person gives for a reading. Left out: as before; null: forgotten. */
        Asked: {
            /** @enum {unknown} */
            side?: "front" | "back" | null;
            rim_height_mm?: number | null;
            rim?: components["schemas"]["Ellipse"] | null;
            /** @description Its recorded height stands for the rim's. */
            form?: string | null;
        };
        AlikePieces: {
            pieces: {
                piece: string;
                /** @description Of its photograph. */
                sha256: string;
                /** @description The chance that both bear the same ornament, from their shapes alone; colours may differ. */
                likeness: number;
                form: string;
                /** @description What the other piece was decided to be. */
                treatment: string | null;
            }[];
        };
        PhotoReading: {
            sha256: string;
            when: string;
            /** @description The packs that were open. */
            packs: string;
            /** @description Other packs are open now. */
            stale: boolean;
            asked: components["schemas"]["Asked"];
            /** @description Kind and digest of each picture: strip, upright, repeat, mark. */
            pictures: {
                [key: string]: string;
            };
            reading: components["schemas"]["Reading"];
            /** @description What the wording as read tells of the date; null without wording. */
            clues: components["schemas"]["Clues"] | null;
        };
        Scored: {
            id: string;
            score: number;
        };
        ReadLine: {
            present: number;
            colour: string | null;
            /** @description Plate units inwards from the rim. */
            at: number | null;
            width: number | null;
            width_mm: number | null;
            ornaments: components["schemas"]["Scored"][];
        };
        Suggestion: {
            field: string;
            place: string | null;
            value: string;
            sure: components["schemas"]["Sure"] | null;
            chance: number;
            why: string;
        };
        /** @description The object of `footring read --json`: docs/commands.md#read. */
        Reading: {
            photo: {
                file: string;
                width: number;
                height: number;
            };
            scale: {
                mm_per_px: number;
                sigma: number;
                source: string;
            } | null;
            outline: {
                /** @enum {unknown} */
                kind: "none" | "round" | "oval" | "square" | "octagonal" | "other";
                centre_px: components["schemas"]["PairOrNull"];
                axes_px: components["schemas"]["PairOrNull"];
                angle_deg: number | null;
                long_mm: number | null;
                short_mm: number | null;
                sigma_mm: number | null;
                seen: number | null;
                tilt_deg: number | null;
                corners_px: components["schemas"]["PointsOrNull"];
                sizes: {
                    shape: string;
                    form: string;
                    trade_size: string;
                    chance: number;
                }[];
            };
            border: {
                present: number;
                repeats: number | null;
                finish: string | null;
                wear: number | null;
                ornaments: components["schemas"]["Scored"][];
                band: components["schemas"]["PairOrNull"];
                phase: number | null;
                map: (number | null)[];
            };
            edge_line: components["schemas"]["ReadLine"];
            verge_line: components["schemas"]["ReadLine"];
            centre: {
                present: number;
                ornaments: components["schemas"]["Scored"][];
                finish: string | null;
                radius: number | null;
                middle: components["schemas"]["PairOrNull"];
                angle_deg: number | null;
            };
            glaze: {
                lab: number[] | null;
                nearest: {
                    id: string;
                    delta_e00: number;
                    chance: number;
                }[];
                sigma: number | null;
            };
            faults: {
                specks_per_dm2: number | null;
                unevenness: number | null;
                crazing: number | null;
                specks_px: components["schemas"]["Point"][];
            };
            wording: {
                text: string;
                confidence: number;
                box_px: components["schemas"]["Point"][];
                turned_deg: number;
            }[];
            marks: components["schemas"]["Scored"][];
            looks: components["schemas"]["Look"][];
            notes: string[];
            /** @enum {unknown} */
            side: "front" | "back";
            card: {
                corners_px: components["schemas"]["Point"][];
                markers: {
                    id: number;
                    seen: boolean;
                    corners_px: components["schemas"]["PointsOrNull"];
                }[];
            } | null;
            mark_area_px: components["schemas"]["PointsOrNull"];
            numbers: string[];
            date_codes: string[];
            strip: {
                from: number;
                to: number;
            } | null;
            /** @description 3 x 4, row by row: (x, y, z, 1) of the plate to (X, Y, W) of the photograph. */
            photo_from_plate: number[] | null;
            /** @description The suggestions in the words of the piece file, but for looks. */
            piece: Record<string, never>;
            suggestions: components["schemas"]["Suggestion"][];
        };
        PhotoSaid: {
            sha256: string;
            name: string;
            value: string;
            chance: number;
            why: string;
        };
        Suggestions: {
            piece: string;
            photos: {
                sha256: string;
                name: string;
                read: boolean;
                stale: boolean;
            }[];
            rows: {
                field: string;
                place: string | null;
                value: string;
                sure: components["schemas"]["Sure"] | null;
                chance: number;
                why: string;
                /** @enum {unknown} */
                state: "open" | "taken" | "refused";
                /** @description What the piece says there. */
                now: string | null;
                for: components["schemas"]["PhotoSaid"][];
                against: components["schemas"]["PhotoSaid"][];
            }[];
            /** @description What the wording tells of the date, from each photograph on which some was read or corrected. */
            clues: {
                sha256: string;
                name: string;
                found: components["schemas"]["Clues"];
            }[];
        };
        ReadMany: {
            /** @description SHA-256 of each; absent: all that nobody read with the open packs. */
            photos?: string[] | null;
        };
        ReadingJob: {
            id: string;
            /** @enum {unknown} */
            state: "running" | "stopping" | "stopped" | "done";
            began: string;
            total: number;
            /** @description Read or failed. */
            done: number;
            failed: {
                sha256: string;
                problem: components["schemas"]["Problem"];
            }[];
            photos: {
                sha256: string;
                /** @enum {unknown} */
                state: "waiting" | "reading" | "read" | "failed" | "stopped";
            }[];
        };
        ReadingJobs: {
            /** @description Photographs that nobody read with the open packs. */
            unread: number;
            jobs: components["schemas"]["ReadingJob"][];
        };
        RecordColumns: {
            piece: components["schemas"]["Piece"];
            /** @description true: no reader sees it. Absent: they do. */
            private?: boolean;
            /** @description Id of a lot, or empty. */
            lot?: string;
            /** @description Where it is kept. */
            place?: string;
            cost?: number | null;
            currency?: string;
            note?: string;
            decision?: components["schemas"]["Decision"] | null;
            attribution?: unknown;
            created?: string;
            changed?: string;
            /** @description 0 for a new piece; as it was read for a change. */
            revision?: number;
            photos?: unknown[];
        };
        /** @description What the store or the server sets itself (attribution, created, changed, photos) may be sent and is not taken. */
        RecordInput: components["schemas"]["RecordColumns"];
        Record: components["schemas"]["RecordColumns"];
        CompositionLine: {
            name?: string;
            /** @description Ids or names of forms, or aat:NUMBER; any of them will do. */
            forms: string[];
            count?: number;
            trade_size?: string;
        };
        Composition: {
            id?: string;
            name?: string;
            note?: string;
            settings?: number;
            setting?: components["schemas"]["CompositionLine"][];
            serving?: components["schemas"]["CompositionLine"][];
        };
        CompositionInput: {
            composition: components["schemas"]["Composition"];
            revision?: number;
        };
        CompositionRecord: {
            composition: components["schemas"]["Composition"];
            supplied: boolean;
            places: number;
            created: string;
            changed: string;
            revision: number;
        };
        CompositionRows: {
            rows: components["schemas"]["CompositionRecord"][];
            total: number;
        };
        ServiceFile: {
            id?: string;
            name?: string;
            note?: string;
            treatments: string[];
            composition: string | components["schemas"]["Composition"];
            settings?: number;
            /** @enum {unknown} */
            grades?: "mixed" | "first" | "second";
            /** @enum {unknown} */
            worst_wear?: "none" | "light" | "moderate" | "heavy";
            /** @enum {unknown} */
            worst_faults?: "none" | "few" | "many";
            least_odds?: number;
            weight?: number;
            setting_value?: number;
            insist?: string[];
            refuse?: string[];
        };
        ServiceInput: {
            service: components["schemas"]["ServiceFile"];
            revision?: number;
        };
        TableLine: {
            name: string;
            in_setting: boolean;
            count: number;
            forms: components["schemas"]["Named"][];
            trade_size: string;
            /** @description Whether the shape is recorded in one of the forms. */
            made: boolean;
        };
        ServiceRecord: {
            service: components["schemas"]["ServiceFile"];
            treatments: components["schemas"]["TreatmentNamed"][];
            composition: components["schemas"]["Composition"] | null;
            places: number;
            lines: components["schemas"]["TableLine"][];
            notes: string[];
            problems: components["schemas"]["Problem"][];
            created: string;
            changed: string;
            revision: number;
        };
        ServiceRows: {
            rows: components["schemas"]["ServiceRecord"][];
            total: number;
        };
        /** @enum {unknown} */
        PlaceState: "filled" | "interchangeable" | "doubtful";
        WhyServes: {
            service: components["schemas"]["Named"];
            piece: string;
            lines: {
                /** @description Null: of the whole service. */
                line: number | null;
                name: string;
                serves: boolean;
                state: components["schemas"]["PlaceState"];
                odds: number;
                sentence: string;
            }[];
        };
        LaidPlace: {
            line: number;
            name: string;
            form: components["schemas"]["NamedOrNull"];
            /** @enum {unknown} */
            state: "filled" | "interchangeable" | "doubtful" | "missing" | "bought";
            piece: string | null;
            odds: number | null;
            insisted: boolean;
            why: string;
            treatment: components["schemas"]["TreatmentNamed"] | null;
        };
        LaidTable: {
            service: components["schemas"]["Named"];
            treatments: components["schemas"]["TreatmentNamed"][];
            complete: number;
            settings: number;
            filled: number;
            places: number;
            whole: boolean;
            lines: components["schemas"]["TableLine"][];
            table: {
                setting: number;
                complete: boolean;
                places: components["schemas"]["LaidPlace"][];
            }[];
            serving: components["schemas"]["LaidPlace"][];
        };
        PricesKnown: {
            /** @description When not, each piece counts 1. */
            known: boolean;
            currency: string;
            /** @description Where they come from; empty when they were handed in. */
            basis: string;
        };
        BoughtPieces: {
            service: components["schemas"]["Named"];
            line: number;
            name: string;
            form: components["schemas"]["Named"];
            treatment: components["schemas"]["TreatmentNamed"];
            trade_size: string;
            count: number;
            /** @description Of one. */
            price: number;
            low: number | null;
            high: number | null;
        };
        Allotment: {
            objective: components["schemas"]["Objective"];
            complete: number;
            settings: number;
            whole: number;
            proved: boolean;
            goals: {
                goal: string;
                value: number;
                bound: number;
                gap: number;
                /** @enum {unknown} */
                ending: "best" | "within the gap asked for" | "limit reached" | "stopped";
            }[];
            services: components["schemas"]["LaidTable"][];
            bought: components["schemas"]["BoughtPieces"][];
            spent: number;
            prices: components["schemas"]["PricesKnown"];
            notes: string[];
            size: {
                pieces: number;
                candidates: number;
                classes: number;
                columns: number;
                rows: number;
            };
        };
        /** @enum {unknown} */
        Objective: "settings" | "services" | "value" | "purchase";
        AllotmentAsked: {
            objective?: components["schemas"]["Objective"];
            budget?: number | null;
            services?: string[];
            /** @description Absent: estimates from the sales that are kept, when there are enough; none: each piece counts 1. */
            prices?: {
                treatment?: string;
                form?: string;
                price: number;
            }[];
            /** @description Of the sales that count; absent: that of most. */
            currency?: string;
            gap?: number | null;
            seconds?: number | null;
        };
        AllotmentJob: {
            id: string;
            /** @enum {unknown} */
            state: "waiting" | "working" | "done" | "stopped" | "failed";
            began: string;
            ended: string | null;
            asked: {
                objective: components["schemas"]["Objective"];
                budget: number | null;
                services: string[];
            };
            /** @description Pieces, services or the Book were changed since. */
            stale: boolean;
            progress: {
                goal: string;
                at: number;
                of: number;
                nodes: number;
                best: number | null;
                bound: number | null;
                seconds: number;
            } | null;
            problems: components["schemas"]["Problem"][];
            allotment?: components["schemas"]["Allotment"];
        };
        AllotmentJobs: {
            rows: components["schemas"]["AllotmentJob"][];
            total: number;
        };
        WantedPieces: {
            service?: components["schemas"]["Named"];
            line: number;
            name: string;
            form: components["schemas"]["Named"];
            treatment: components["schemas"]["TreatmentNamed"];
            trade_size: string;
            count: number;
            /** @description Of one. */
            price: number;
            low: number | null;
            high: number | null;
        };
        Wants: {
            steps: {
                service: components["schemas"]["Named"];
                /** @enum {unknown} */
                completes: "setting" | "serving";
                setting: number | null;
                of: number | null;
                buy: components["schemas"]["WantedPieces"][];
                pieces: number;
                cost: number;
                so_far: number;
                sentence: string;
            }[];
            list: components["schemas"]["WantedPieces"][];
            pieces: number;
            cost: number;
            prices: components["schemas"]["PricesKnown"];
            never: string[];
            /** @description The list to carry, plain lines. */
            text: string;
        };
        Parting: {
            rows: {
                piece: string;
                form: components["schemas"]["NamedOrNull"];
                /** @enum {unknown} */
                kind: "duplicate" | "stray";
                sentence: string;
            }[];
            total: number;
        };
        FoundAsked: {
            piece: components["schemas"]["Piece"];
            /** @description What it is known to be; absent: as the looks have it. */
            treatment?: string;
            /** @description Absent: the newest. */
            allotment?: string;
        };
        FoundAnswer: {
            fits: boolean;
            sentence: string;
            gain: number;
            services: {
                service: components["schemas"]["Named"];
                line: number;
                name: string;
                state: components["schemas"]["PlaceState"];
                odds: number;
                completes: boolean;
                setting: number | null;
                of: number | null;
                still_missing: string[];
                sentence: string;
            }[];
            why: {
                service: components["schemas"]["Named"];
                sentence: string;
            }[];
        };
        AllotmentSummary: {
            id: string;
            objective: components["schemas"]["Objective"];
            complete: number;
            whole: number;
            filled: number;
            bought: number;
            spent: number;
        };
        AllotmentsCompared: {
            a: components["schemas"]["AllotmentSummary"];
            b: components["schemas"]["AllotmentSummary"];
            services: {
                service: components["schemas"]["Named"];
                complete: (number | null)[];
                filled: (number | null)[];
                settings: number;
            }[];
            moved: {
                piece: string;
                from: string | null;
                to: string | null;
            }[];
            sentences: string[];
        };
        LotColumns: {
            /** @description Empty in a new lot: the next free one. */
            id?: string;
            name: string;
            date?: components["schemas"]["Years"];
            /** @description Where it was bought. */
            place?: string;
            note?: string;
            cost?: number | null;
            currency?: string;
            revision?: number;
        };
        Lot: components["schemas"]["LotColumns"];
        Change: {
            id: number;
            when: string;
            /** @enum {unknown} */
            entity: "piece" | "lot" | "photo" | "sale" | "service" | "composition" | "letter" | "mapping" | "haul";
            key: string;
            /** @description One sentence. */
            what: string;
            /** @description null: it did not exist */
            before: Record<string, never> | null;
            after: Record<string, never> | null;
            /** @description The account; absent where nobody signs in. */
            who?: string;
            undoes?: number;
            /** @description Changes that were made by one call share it. */
            batch: number;
        };
        News: {
            /** @description The newest change; ask for what comes after it. */
            newest: number;
            /** @description false: more changed than is listed */
            all: boolean;
            /** @description Oldest first. */
            changes: {
                id: number;
                when: string;
                entity: string;
                key: string;
                /** @description The piece that changed, or whose photograph. */
                piece: string | null;
                /** @description One sentence. */
                what: string;
                /** @description An answer that changed something names its batches in the header Footring-Batches. */
                batch: number;
            }[];
            /** @description When to ask again; 0: at once. */
            again_ms: number;
        };
        Setting: {
            name: string;
            value: number;
            default: number;
            lowest: number;
            highest: number;
            sentence: string;
        };
        Pack: {
            id: string;
            title: string;
            version: string;
            digest: string;
        };
        /** @enum {unknown} */
        Grade: "first" | "second" | "any";
        ColourOrNull: string | null;
        /** @description What a statement or a dated use is about; `table` is empty when no open pack has it. */
        Subject: {
            /** @enum {unknown} */
            table: "treatments" | "ornaments" | "shapes" | "glazes" | "marks" | "makers" | "forms" | "";
            id: string;
            name: string;
        };
        Statement: {
            id: string;
            property: string;
            value: string;
            /** @enum {unknown} */
            stance: "for" | "against";
            source: string;
            sources: components["schemas"]["Source"][];
            note: string;
        };
        StatementGroup: {
            property: string;
            for: components["schemas"]["Statement"][];
            against: components["schemas"]["Statement"][];
            contested: boolean;
        };
        TreatmentLine: {
            id: string;
            number: string;
            name: string;
            shape: components["schemas"]["Named"];
            glaze: components["schemas"]["NamedOrNull"];
            grade: components["schemas"]["Grade"];
            years_words: string;
        };
        MarkLine: {
            id: string;
            wording: string;
            years_words: string;
        };
        MakerColumns: {
            id: string;
            name: string;
            /** @enum {unknown} */
            role: "pottery" | "decorator" | "supplier";
            place: string;
            years: components["schemas"]["Years"];
            years_words: string;
            unmarked_share: number | null;
            numbered_share: number | null;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        MakerRow: components["schemas"]["MakerColumns"];
        ShapeColumns: {
            id: string;
            maker: components["schemas"]["NamedOrNull"];
            name: string;
            years: components["schemas"]["Years"];
            years_words: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        ShapeRow: components["schemas"]["ShapeColumns"];
        FormColumns: {
            id: string;
            name: string;
            /** @enum {unknown} */
            ware: "flat" | "hollow";
            /** @enum {unknown} */
            outline: "round" | "oval" | "square" | "octagonal" | "other";
            aat: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        FormRow: components["schemas"]["FormColumns"];
        GlazeColumns: {
            id: string;
            maker: components["schemas"]["NamedOrNull"];
            name: string;
            lab_l: number | null;
            lab_a: number | null;
            lab_b: number | null;
            colour: components["schemas"]["ColourOrNull"];
            years: components["schemas"]["Years"];
            years_words: string;
            /** @enum {unknown} */
            uranium: "yes" | "no" | "unknown";
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        GlazeRow: components["schemas"]["GlazeColumns"];
        OrnamentColumns: {
            id: string;
            name: string;
            /** @enum {unknown} */
            kind: "stamp" | "decal" | "line" | "band" | "print" | "solid" | "relief";
            finish: string;
            drawing: string;
            repeats: number | null;
            supplier: components["schemas"]["NamedOrNull"];
            shared: boolean;
            second_share: number | null;
            years: components["schemas"]["Years"];
            years_words: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        OrnamentRow: components["schemas"]["OrnamentColumns"];
        TreatmentColumns: {
            id: string;
            shape: components["schemas"]["Named"];
            maker: components["schemas"]["NamedOrNull"];
            glaze: components["schemas"]["NamedOrNull"];
            number: string;
            name: string;
            grade: components["schemas"]["Grade"];
            years: components["schemas"]["Years"];
            years_words: string;
            outlet: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        TreatmentRow: components["schemas"]["TreatmentColumns"];
        MarkColumns: {
            id: string;
            maker: components["schemas"]["NamedOrNull"];
            wording: string;
            drawing: string;
            years: components["schemas"]["Years"];
            years_words: string;
            /** @description Empty: every shape. */
            shapes: components["schemas"]["Named"][];
            /** @enum {unknown} */
            grade: "" | "second";
            code_scheme: string | null;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        MarkRow: components["schemas"]["MarkColumns"];
        SourceColumns: {
            id: string;
            kind: string;
            creator: string;
            title: string;
            date: string;
            locator: string;
            trust: number | null;
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        SourceRow: components["schemas"]["SourceColumns"];
        StatementColumns: {
            id: string;
            subject: components["schemas"]["Subject"];
            property: string;
            value: string;
            /** @enum {unknown} */
            stance: "for" | "against";
            source: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        StatementRow: components["schemas"]["StatementColumns"];
        DatedUseColumns: {
            subject: components["schemas"]["Subject"];
            date: string;
            date_words: string;
            kind: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        DatedUseRow: components["schemas"]["DatedUseColumns"];
        CodeSchemeColumns: {
            id: string;
            pattern: string;
            tables: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        CodeSchemeRow: components["schemas"]["CodeSchemeColumns"];
        ClueColumns: {
            id: string;
            name: string;
            wording: string[];
            pattern: string;
            unlike: string[];
            years: string;
            years_words: string;
            rarely: string;
            rarely_words: string;
            kind: string;
            jurisdiction: string;
            rule: string;
            /** @enum {unknown} */
            verified: "yes" | "partly" | "no";
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        ClueRow: components["schemas"]["ClueColumns"];
        NumberSeriesColumns: {
            id: string;
            name: string;
            wording: string[];
            unlike: string[];
            letter: string;
            jurisdiction: string;
            rule: string;
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        NumberSeriesRow: components["schemas"]["NumberSeriesColumns"];
        SeriesNumberColumns: {
            series: components["schemas"]["Named"];
            year: number;
            first_number: number;
            other_number: number | null;
            /** @enum {unknown} */
            verified: "yes" | "partly" | "no";
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        SeriesNumberRow: components["schemas"]["SeriesNumberColumns"];
        TradeCountColumns: {
            id: string;
            name: string;
            count: number;
            pints: number | null;
            height_mm: number | null;
            /** @enum {unknown} */
            verified: "yes" | "partly" | "no";
            note: string;
            sources: components["schemas"]["Source"][];
            pack: string;
            /** @description Where it stands, as treatments.csv:12. */
            row: string;
        };
        TradeCountRow: components["schemas"]["TradeCountColumns"];
        NumberSeriesDetail: components["schemas"]["NumberSeriesColumns"];
        MakerDetail: components["schemas"]["MakerColumns"];
        ShapeDetail: components["schemas"]["ShapeColumns"];
        FormDetail: components["schemas"]["FormColumns"];
        GlazeDetail: components["schemas"]["GlazeColumns"];
        OrnamentDetail: components["schemas"]["OrnamentColumns"];
        TreatmentDetail: components["schemas"]["TreatmentColumns"];
        MarkDetail: components["schemas"]["MarkColumns"];
        SourceDetail: components["schemas"]["SourceColumns"];
        CodeSchemeDetail: components["schemas"]["CodeSchemeColumns"];
        Editing: {
            packs: {
                id: string;
                title: string;
                digest: string;
                folder: string;
                editable: boolean;
                why_not: string | null;
                /** @description The first edit copies the pack there and changes the copy. */
                copies_to: string | null;
            }[];
            tables: {
                name: string;
                sentence: string;
                has_id: boolean;
                columns: {
                    name: string;
                    type: string;
                    required: boolean;
                    refers: string[];
                    words: string[];
                    lowest: number | null;
                    highest: number | null;
                    sentence: string;
                }[];
            }[];
        };
        EditRow: {
            line: number;
            cells: {
                [key: string]: string;
            };
        };
        BookEdit: {
            pack: string;
            /** @description The sentence of the history; made from the edit when absent. */
            what?: string;
            rows?: {
                table: string;
                /** @enum {unknown} */
                do: "add" | "change" | "remove";
                /** @description Where the row begins; of a new one: behind which it goes, 0: where it belongs. */
                line?: number;
                was?: {
                    [key: string]: string;
                };
                cells?: {
                    [key: string]: string;
                };
            }[];
            files?: {
                path: string;
                text?: string;
                base64?: string;
            }[];
            /** @description What to draw as the edit would have it. */
            show?: {
                treatment?: string;
                ornament?: string;
                form?: string;
            };
        };
        BookEdited: {
            change: number | null;
            faults: {
                code: string;
                where: string;
                what: string;
                remedy: string;
                row: number | null;
                column: string;
            }[];
            notes: string[];
            /** @description SVG. */
            picture: string | null;
        };
        BookChange: {
            id: number;
            when: string;
            what: string;
            pack: string;
            rows: {
                table: string;
                line: number;
                before: {
                    [key: string]: string;
                };
                after: {
                    [key: string]: string;
                };
            }[];
            files: string[];
            undoes: number | null;
            undone: boolean;
        };
        Reexaminations: {
            /** @enum {unknown} */
            state: "none" | "running" | "done" | "stopped" | "failed";
            began: string;
            /** @description The Book changed since. */
            stale: boolean;
            done: number;
            of: number;
            up_to_date: number;
            same: number;
            /** @description Undecided pieces of which nothing was said before. */
            unknown: number;
            changed: {
                piece: string;
                revision: number;
                form: string;
                decision: components["schemas"]["Decision"] | null;
                before: Record<string, never> | null;
                when: string | null;
                after: Record<string, never> | null;
                what: string[];
                why: {
                    look: string;
                    value: string;
                    before: number;
                    after: number;
                    rows: string[];
                    sources: string[];
                }[];
                notes: string[];
                problems: components["schemas"]["Problem"][];
            }[];
            problems: components["schemas"]["Problem"][];
        };
        BookRow: components["schemas"]["MakerRow"] | components["schemas"]["ShapeRow"] | components["schemas"]["FormRow"] | components["schemas"]["GlazeRow"] | components["schemas"]["OrnamentRow"] | components["schemas"]["TreatmentRow"] | components["schemas"]["MarkRow"] | components["schemas"]["SourceRow"] | components["schemas"]["StatementRow"] | components["schemas"]["DatedUseRow"] | components["schemas"]["CodeSchemeRow"] | components["schemas"]["ClueRow"] | components["schemas"]["NumberSeriesRow"] | components["schemas"]["SeriesNumberRow"] | components["schemas"]["TradeCountRow"];
        BookDetail: components["schemas"]["MakerDetail"] | components["schemas"]["ShapeDetail"] | components["schemas"]["FormDetail"] | components["schemas"]["GlazeDetail"] | components["schemas"]["OrnamentDetail"] | components["schemas"]["TreatmentDetail"] | components["schemas"]["MarkDetail"] | components["schemas"]["SourceDetail"] | components["schemas"]["StatementRow"] | components["schemas"]["DatedUseRow"] | components["schemas"]["CodeSchemeDetail"] | components["schemas"]["ClueRow"] | components["schemas"]["NumberSeriesDetail"] | components["schemas"]["SeriesNumberRow"] | components["schemas"]["TradeCountRow"];
        Vocabulary: {
            forms: {
                id: string;
                name: string;
                ware: string;
                outline: string;
                /** @description Where some pack records something for this form; a look elsewhere tells nothing. */
                places: components["schemas"]["Place"][];
            }[];
            shapes: {
                id: string;
                name: string;
                maker: string | null;
                maker_name: string;
                years: components["schemas"]["Years"];
                forms: string[];
            }[];
            glazes: {
                id: string;
                name: string;
                maker: string | null;
                colour: components["schemas"]["ColourOrNull"];
                years: components["schemas"]["Years"];
            }[];
            ornaments: {
                id: string;
                name: string;
                kind: string;
                finish: string;
                places: components["schemas"]["Place"][];
            }[];
            marks: {
                id: string;
                wording: string;
                maker: string | null;
                years: components["schemas"]["Years"];
                second: boolean;
            }[];
            makers: {
                id: string;
                name: string;
                role: string;
            }[];
            places: components["schemas"]["Place"][];
            sures: components["schemas"]["Sure"][];
            wears: string[];
            faults: string[];
            /** @description Minutes. */
            efforts: {
                glance: number;
                turn_over: number;
                measure: number;
                loupe: number;
                lamp: number;
                laboratory: number;
            };
        };
        Key: {
            /** @description The first is the root; children stand after their parent. */
            nodes: {
                treatments: string[];
                /** @description Empty at a leaf. */
                look: string;
                effort_min: number;
                branches: {
                    value: string;
                    /** @description Index into nodes. */
                    node: number;
                }[];
            }[];
            expected_effort_min: number;
            /** @description Proven least; otherwise made greedily. */
            optimal: boolean;
        };
        Apart: {
            differences: {
                look: string;
                /** @description One per treatment, in the order asked. */
                values: string[];
            }[];
            telling_forms: string[];
            twin_groups: string[][];
        };
        /** @description Whole years: firm from first to last; the weight falls to nothing at the soft years, which equal the firm ones at a sharp end. Open ends are clipped to the maker's years. */
        SoftSpan: {
            soft_first: number;
            first: number;
            last: number;
            soft_last: number;
        };
        SoftSpanOrNull: components["schemas"]["SoftSpan"] | null;
        GlazeNamedOrNull: {
            id: string;
            name: string;
            colour: components["schemas"]["ColourOrNull"];
        } | null;
        YearsBar: {
            treatment: components["schemas"]["TreatmentNamed"];
            grade: components["schemas"]["Grade"];
            glaze: components["schemas"]["GlazeNamedOrNull"];
            /** @description Where the ornament sits, when an ornament was asked for. */
            places: components["schemas"]["Place"][];
            edtf: string;
            words: string;
            /** @description False: no years are recorded for it; shown are those in which its shape, glaze and ornaments were all in use. */
            stated: boolean;
            span: components["schemas"]["SoftSpan"];
            sources: components["schemas"]["Source"][];
        };
        YearsLane: {
            shape: components["schemas"]["Named"];
            maker: components["schemas"]["NamedOrNull"];
            span: components["schemas"]["SoftSpanOrNull"];
            words: string;
            sources: components["schemas"]["Source"][];
            bars: components["schemas"]["YearsBar"][];
        };
        YearsPiece: {
            id: string;
            form: components["schemas"]["NamedOrNull"];
            /** @description Id of a shape: decided, seen, or likelier than not. */
            lane: string | null;
            /** @description Decided, or likelier than not. */
            treatment: string | null;
            decided: boolean;
            median: number;
            hpd68: number[];
            hpd95: number[];
        };
        /** @description Lanes by shape, bars by treatment, dated uses, glazes, numbers and pieces. */
        Chronology: {
            title: string;
            of: {
                /** @enum {unknown} */
                table: "ornament" | "shape" | "maker" | "glaze" | "treatment" | "lot" | "cupboard";
                id: string;
                name: string;
                span: components["schemas"]["SoftSpanOrNull"];
                words: string;
                sources: components["schemas"]["Source"][];
            };
            first: number;
            last: number;
            lanes: components["schemas"]["YearsLane"][];
            ticks: {
                date: string;
                words: string;
                span: components["schemas"]["SoftSpan"];
                kind: string;
                subject: components["schemas"]["Subject"];
                lane: string | null;
                treatment: string | null;
                source: components["schemas"]["Source"] | null;
            }[];
            glazes: {
                id: string;
                name: string;
                colour: components["schemas"]["ColourOrNull"];
                span: components["schemas"]["SoftSpanOrNull"];
                words: string;
                sources: components["schemas"]["Source"][];
            }[];
            numbers: {
                shape: string;
                /** @description What stands before the figures, in lower case. */
                sequence: string;
                /** @description Numbers of second-grade ware are a sequence of their own. */
                seconds: boolean;
                number: number;
                year: number;
                low: number;
                high: number;
                /** @description The year of the line through the dated numbers. */
                line: number;
                treatment: string;
                dated: boolean;
                outlier: boolean;
            }[];
            pieces: components["schemas"]["YearsPiece"][];
            notes: string[];
        };
        /** @description The object of `footring date --json`. */
        DateCombined: {
            piece: string;
            date: {
                median: number;
                hpd68: number[];
                hpd95: number[];
                edtf: string;
                by_year: {
                    first_year: number;
                    p: number[];
                };
            };
            statements: {
                subject: string;
                what: string;
                span: components["schemas"]["SoftSpanOrNull"];
                trust: number;
                /** @description Chance that it holds, after all were heard. */
                holds: number;
                /** @description Share of the chances of years that it alone takes away before the median. */
                cut_before: number;
                cut_after: number;
                sources: string[];
                row: string | null;
                /** @description How well each year of date.by_year agrees with it, 0 to 1. */
                agrees: number[];
            }[];
            contradictions: {
                statements: string[];
                /** @description Where they stand in statements. */
                at: number[];
                sources: string[];
            }[];
            /** @description False: there are more contradictions than are listed. */
            complete: boolean;
            /** @description Each of these, if it alone were wrong, would let the rest hold. */
            frees: string[];
            hypotheses: {
                treatment: string | null;
                probability: number;
                median: number;
            }[];
            notes: string[];
        };
        FoundClue: {
            clue: string;
            /** @description law, practice, number, mark, or count (a potters' count, which tells no year). */
            kind: string;
            name: string;
            text: string;
            span: number[];
            likeness: number;
            years: string | null;
            rarely: string | null;
            rule: string;
            jurisdiction: string;
            /** @enum {unknown} */
            verified: "yes" | "partly" | "no";
            trust: number | null;
            /** @description How far it counts: its trust, less for what was not verified, for a habit and for bad spelling. */
            weight: number;
            note: string;
            sources: string[];
            row: string;
            number: {
                value: number;
                given: string | null;
            } | null;
            /** @description The longer clue that holds it; it does not count then. */
            within: string | null;
        };
        /** @description The object of `footring clue --json`. */
        Clues: {
            clues: components["schemas"]["FoundClue"][];
            years: string | null;
            only_rarely: boolean;
            conflict: string[];
            /** @description Clues that `years` does without, for they weigh less than those they contradict. */
            set_aside: string[];
        };
        /** @description The object of `footring code --json`; the weights sum to 1. */
        CodeAnswer: {
            code: string;
            years: string | null;
            /** @description No mark that bears the scheme was struck in any of these years. */
            outside_marks: boolean;
            readings: {
                scheme: string;
                date: string | null;
                years: number[];
                weight: number;
                parts: {
                    group: string;
                    token: string;
                    meaning: string | null;
                }[];
                marks: string[];
                note: string;
                sources: string[];
                row: string;
            }[];
        };
        Caution: {
            /** @enum {unknown} */
            id: "metal-trim" | "uranium-glaze" | "worn-decoration" | "early-ware" | "crazing" | "dishwasher" | "stacking";
            title: string;
            text: string;
            because: string[];
            chance: number;
            sources: components["schemas"]["Source"][];
        };
        Cautions: {
            piece: string;
            cautions: components["schemas"]["Caution"][];
            defers: string;
        };
        LeachLimit: {
            /** @enum {unknown} */
            substance: "lead" | "cadmium";
            category: string;
            limit: number;
            unit: string;
            rule: string;
            value_verified: boolean;
            rule_verified: boolean;
            in_force: boolean;
            note: string;
        };
        Regimes: {
            regimes: {
                authority: string;
                document: string;
                in_force: boolean;
                limits: components["schemas"]["LeachLimit"][];
            }[];
            categories: components["schemas"]["Named"][];
            /** @description What a unit of POST /api/care/leach may have beside `unit`. */
            members: string[];
            flat_depth_mm: number;
            large_ml: number;
            storage_ml: number;
            note: string;
        };
        /** @description The object of `footring leach --json`. */
        Leached: {
            units: number;
            categories: string[];
            verdicts: {
                authority: string;
                document: string;
                /** @enum {unknown} */
                substance: "lead" | "cadmium";
                category: string;
                limit: number;
                unit: string;
                rule: string;
                /** @enum {unknown} */
                verdict: "pass" | "fail" | "cannot tell";
                because: string;
                value_verified: boolean;
                rule_verified: boolean;
                in_force: boolean;
                note: string;
            }[];
            notes: string[];
        };
        /** @description The object of `footring sequence --json`. */
        Sequence: {
            numbers: {
                number: number;
                year: number;
                low: number;
                high: number;
                edtf: string;
                /** @enum {unknown} */
                where: "between" | "before" | "after";
            }[];
            dated: {
                treatment: string;
                number: number;
                first: number;
                last: number;
                line: number;
                sources: string[];
            }[];
            outliers: {
                treatment: string;
                line: number;
                deviations: number;
            }[];
            typical_years: number;
        };
        /** @description The object of `footring unseen --json`. */
        Unseen: {
            sequences: {
                shape: string;
                sequence: string;
                /** @description Numbers of second-grade ware are a sequence of their own. */
                seconds: boolean;
                /** @description They stand behind a gap that is too wide for chance, and are taken for a sequence of their own. */
                apart: boolean;
                count: number;
                lowest: number;
                highest: number;
                /** @description Runs of numbers between the lowest and the highest, first and last: what to look for. */
                missing: number[][];
                missing_count: number;
                estimate: {
                    counted_from: number;
                    unbiased: number;
                    mean: number | null;
                    sd: number | null;
                    median: number | null;
                    upper: number | null;
                } | null;
                assumes: string;
            }[];
            kinds: {
                listed: number;
                seen: number;
                sightings: number;
                finds: number;
                estimates: {
                    /** @enum {unknown} */
                    estimator: "chao1" | "ace" | "chao2" | "jackknife1" | "jackknife2" | "bootstrap";
                    value: number;
                    standard_error: number | null;
                    interval: number[] | null;
                    assumes: string;
                }[];
                curve: {
                    sightings: number;
                    kinds: number;
                    /** @description Beyond what was seen. */
                    expected: boolean;
                }[];
            };
        };
        /** @description The object of `footring assemblage --json`. */
        Assemblage: {
            pieces: number;
            mean_date: {
                mean: number;
                spread: number;
                standard_error: number | null;
            };
            terminus_post_quem: {
                year: number;
                piece: string;
            };
            by_year: {
                first_year: number;
                pieces: number[];
            };
            out_of_step: {
                piece: string;
                median: number;
                within: number;
                /** @enum {unknown} */
                side: "earlier" | "later";
            }[];
            dates: {
                piece: string;
                median: number;
                not_before: number;
                decided: boolean;
            }[];
        };
        ImportFields: {
            field: string;
            sentence: string;
        }[];
        ImportResult: {
            added: number;
            changed: number;
            unchanged: number;
            /** @description Rows with a fault. */
            skipped: number;
            /** @description Of an export of everything: sales, services, letters and the like that were added or changed. */
            others: number;
            /** @description How many there are; `problems` has at most 5000 of them. */
            faults: number;
            problems: components["schemas"]["Problem"][];
            /** @description The columns were understood as the last time. */
            remembered: boolean;
            columns: {
                column: string;
                field: string | null;
            }[];
            duplicates: {
                where: string;
                what: string;
            }[];
            notes: string[];
            /** @description The first rows as they would be kept, by field. */
            preview: {
                [key: string]: string;
            }[];
        };
        ImportJob: {
            /** @enum {unknown} */
            state: "none" | "running" | "done" | "stopped" | "failed";
            into: string;
            dry_run: boolean;
            began: string;
            /** @enum {unknown} */
            step: "" | "reading" | "comparing" | "storing";
            /** @description Rows of this step. */
            done: number;
            of: number;
            result: components["schemas"]["ImportResult"] | null;
            /** @description Of one that failed: every fault, at most 5000. */
            problems: components["schemas"]["Problem"][];
            /** @description Of one that ended: the batches of the changes that it made, oldest first. */
            batches: number[];
        };
        Batch: {
            batch: number | null;
        };
    };
    responses: {
        /** @description What is wrong. 400: mend the input; 401: sign in; 403: the caller is foreign, or this role may not; 404: it is not there; 405: another method; 409: it was changed in between; 413: too large; 429: too many, wait; 500: our fault; 503: the disk refused. */
        Problems: {
            headers: {
                [name: string]: unknown;
            };
            content: {
                "application/json": components["schemas"]["Problems"];
            };
        };
    };
    parameters: {
        /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
        id: string;
        /** @description What addresses in the file begin with; the program's own when absent. */
        base: string;
        ornament: string;
        sha256: string;
        job: string;
        batch: number;
        table: "makers" | "shapes" | "forms" | "glazes" | "ornaments" | "treatments" | "marks" | "sources" | "statements" | "dated-uses" | "code-schemes" | "clues" | "number-series" | "series-numbers" | "trade-counts";
        limit: number;
        offset: number;
    };
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    door: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AtTheDoor"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    signIn: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    name: string;
                    password: string;
                };
            };
        };
        responses: {
            /** @description Who is signed in now. */
            200: {
                headers: {
                    "Set-Cookie"?: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AtTheDoor"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    signOut: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AtTheDoor"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    signOutEverywhere: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Ended"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    ownSessions: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        begun: string;
                        seen: string;
                        origin: string;
                        this_one: boolean;
                    }[];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changePassword: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    before: string;
                    after: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AtTheDoor"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    people: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addPerson: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    name: string;
                    role: components["schemas"]["RoleName"];
                    password: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changePerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    role?: components["schemas"]["RoleName"];
                    password?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Person"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removePerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        removed: string;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    signOutPerson: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Ended"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    backups: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["BackupRow"][];
                        /** @description The pieces are in a database: its own tools make its backups, and none is made here. */
                        in_database: boolean;
                        folder: string;
                        keeps: {
                            hours: number;
                            days: number;
                            weeks: number;
                            months: number;
                        };
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    makeBackup: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BackupRow"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    checkBackup: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It is whole. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BackupInfo"] & {
                        files: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    restoreBackup: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It is back. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BackupInfo"] & {
                        files: number;
                        kept: string | null;
                        notes: string[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    audit: {
        parameters: {
            query?: {
                who?: string;
                subject?: string;
                before?: number;
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        id: number;
                        when: string;
                        who: string;
                        what: string;
                        subject: string;
                        batch: number | null;
                        origin: string;
                    }[];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    alive: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @constant */
                        status: "ok";
                        version: string;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    health: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @constant */
                        status: "ok";
                        version: string;
                        packs: components["schemas"]["Pack"][];
                        data: string;
                        pieces: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    settings: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Setting"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    document: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": Record<string, never>;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    examine: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    piece: components["schemas"]["Piece"];
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Answer"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    apart: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    form?: string;
                    treatments: string[];
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Apart"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    key: {
        parameters: {
            query?: {
                /** @description Id of a shape; all when absent. */
                shape?: string;
                /** @description Id of a form. */
                form?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Key"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    years: {
        parameters: {
            query: {
                /** @description ornament:ID, shape:ID, maker:ID, glaze:ID, treatment:ID, lot:ID or cupboard. */
                of: string;
                /** @description False: without the pieces one owns. */
                pieces?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Chronology"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    date: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    piece: components["schemas"]["Piece"];
                    /** @description Wording on the underside. */
                    clues?: string[];
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DateCombined"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    clues: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    text: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Clues"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    code: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    scheme: string;
                    text: string;
                    /** @description Id of the mark that the piece bears. */
                    mark?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CodeAnswer"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    codeSchemes: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["CodeSchemeDetail"][];
                        total: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    cautions: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    piece: components["schemas"]["Piece"];
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Cautions"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    cautionsOfKept: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Cautions"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    regimes: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Regimes"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    leach: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    depth_mm?: number | null;
                    volume_ml?: number | null;
                    /** @enum {unknown} */
                    category?: "table" | "cup" | "pitcher" | "storage" | "cooking" | "";
                    /** @description A unit each: {unit, lead_mg_per_l, cadmium_mg_per_l, lead_mg_per_dm2, cadmium_mg_per_dm2}; a number, or text such as "<0.02". */
                    units?: {
                        unit?: string;
                    }[];
                    /** @description The same as the file of `footring leach`, instead of units. */
                    csv?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Leached"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    sequence: {
        parameters: {
            query?: {
                /** @description Only the numbers of this shape. */
                shape?: string;
                /** @description Only the numbers of this maker's shapes. */
                maker?: string;
                /** @description As they stand on pieces, separated by commas: 117 or H-117. */
                number?: string;
                /** @description What stands before the figures, when no number is asked for. */
                sequence?: string;
                /** @description True: the numbers of second-grade ware. */
                seconds?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Sequence"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    unseen: {
        parameters: {
            query?: {
                /** @description Only treatments of this shape. */
                shape?: string;
                /** @description Only those of this maker's shapes. */
                maker?: string;
                /** @description Only those that carry this ornament. */
                ornament?: string;
                /** @description The first number that was given out. */
                from?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Unseen"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    assemblage: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    lot?: string;
                    pieces?: string[];
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Assemblage"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    glyphOfPiece: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    piece: components["schemas"]["Piece"];
                    picked_out?: components["schemas"]["Place"][];
                };
            };
        };
        responses: {
            /** @description SVG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    glyphOfTreatment: {
        parameters: {
            query?: {
                form?: string;
                /** @description Places joined by commas. */
                picked_out?: string;
            };
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description SVG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    rimStrip: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                ornament: components["parameters"]["ornament"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description SVG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    drawing: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                ornament: components["parameters"]["ornament"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description SVG or PNG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/svg+xml": string;
                    "image/png": string;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    book: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        packs: {
                            id: string;
                            title: string;
                            description: string;
                            version: string;
                            digest: string;
                            contributors: string[];
                        }[];
                        counts: {
                            [key: string]: number;
                        };
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    vocabulary: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Vocabulary"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    table: {
        parameters: {
            query?: {
                /** @description Words that all have to occur in a row. */
                q?: string;
                limit?: components["parameters"]["limit"];
                offset?: components["parameters"]["offset"];
            };
            header?: never;
            path: {
                table: components["parameters"]["table"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["BookRow"][];
                        total: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    row: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                table: components["parameters"]["table"];
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BookDetail"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    editing: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Editing"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    editBook: {
        parameters: {
            query?: {
                /** @description Check, and write nothing: what is wrong is in `faults`. */
                dry_run?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BookEdit"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BookEdited"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    bookChanges: {
        parameters: {
            query?: {
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BookChange"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    undoEdit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                change: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        change: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    reloadPacks: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Editing"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    editRows: {
        parameters: {
            query?: {
                /** @description Words that a row has to have. */
                q?: string;
                /** @description Text of the first column. */
                first?: string;
                /** @description The row that begins there. */
                line?: number;
                limit?: number;
                offset?: number;
            };
            header?: never;
            path: {
                pack: string;
                table: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["EditRow"][];
                        total: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    dateWords: {
        parameters: {
            query: {
                text: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        text: string;
                        words: string;
                        caution: string;
                        spans: {
                            first: number | null;
                            last: number | null;
                        }[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    reexaminations: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Reexaminations"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    reexamine: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Reexaminations"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    stopReexamining: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Reexaminations"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    settleReexamined: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                piece: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    accept?: boolean;
                    revision: number;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Record"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    search: {
        parameters: {
            query?: {
                q?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        pieces: {
                            id: string;
                            form: string;
                            shape: string;
                            number: string;
                        }[];
                        book: {
                            table: string;
                            id: string;
                            name: string;
                            detail: string;
                        }[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    pieces: {
        parameters: {
            query?: {
                /** @description Words that all have to occur. */
                q?: string;
                form?: string;
                shape?: string;
                lot?: string;
                place?: string;
                treatment?: string;
                grade?: string;
                decided?: boolean;
                /** @description changed when absent */
                sort?: "changed" | "id" | "form" | "shape" | "number" | "lot" | "place";
                /** @description desc for changed, else asc */
                order?: "asc" | "desc";
                /** @description false: of a search that very many pieces answer the total need not be known; more then. */
                counted?: boolean;
                limit?: components["parameters"]["limit"];
                offset?: components["parameters"]["offset"];
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["Record"][];
                        /** @description Without limit and offset. */
                        total: number;
                        /**
                         * @description There are more than total: they were not counted.
                         * @constant
                         */
                        more?: true;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addPiece: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RecordInput"];
            };
        };
        responses: {
            /** @description The piece as it is stored. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Record"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    facets: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        field: string;
                        value: string;
                        label: string;
                        count: number;
                    }[];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeMany: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    ids: string[];
                    set?: {
                        lot?: string;
                        place?: string;
                        note?: string;
                        currency?: string;
                        cost?: number | null;
                        private?: boolean;
                    };
                    remove?: boolean;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        changed: number;
                        batch: number | null;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    piece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Record"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changePiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RecordInput"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Record"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    decide: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    treatment?: string;
                    /** @enum {unknown} */
                    grade?: "first" | "second" | "";
                    date?: components["schemas"]["Years"];
                    note?: string;
                    revision: number;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Record"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    history: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Change"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addPhoto: {
        parameters: {
            query?: {
                /** @description The file's name. */
                name?: string;
            };
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "image/jpeg": unknown;
                "image/png": unknown;
                "image/webp": unknown;
                "image/tiff": unknown;
                "image/heic": unknown;
                "image/heif": unknown;
                "application/octet-stream": unknown;
            };
        };
        responses: {
            /** @description What is kept of it. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Photo"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removePhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    photo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The photograph */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                    "image/png": unknown;
                    "image/webp": unknown;
                    "image/tiff": unknown;
                    "image/heic": unknown;
                    "image/heif": unknown;
                    "application/octet-stream": unknown;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    thumbnail: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description JPEG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    viewOfPhoto: {
        parameters: {
            query?: {
                /** @description px of the longer side. */
                longest?: number;
            };
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description JPEG */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    readPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Asked"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhotoReading"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    readingOfPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PhotoReading"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    piecesWithABorderLikeIt: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AlikePieces"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    stripOfPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The picture */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    uprightOfPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The picture */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    repeatOfPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The picture */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/png": unknown;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    markOfPhoto: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The picture */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/png": unknown;
                };
            };
            /** @description The picture that the caller has is still good. */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            default: components["responses"]["Problems"];
        };
    };
    correctReading: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
                sha256: components["parameters"]["sha256"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Corrections"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Photo"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    suggestions: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Suggestions"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    readingJobs: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingJobs"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    readPhotos: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ReadMany"];
            };
        };
        responses: {
            /** @description The job. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    readingJob: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                job: components["parameters"]["job"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    stopReadingJob: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                job: components["parameters"]["job"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    services: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ServiceRows"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addService: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ServiceInput"];
            };
        };
        responses: {
            /** @description It was added. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ServiceRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    service: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ServiceRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeService: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ServiceInput"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ServiceRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removeService: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    whyServes: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
                piece: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WhyServes"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    compositions: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CompositionRows"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addComposition: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CompositionInput"];
            };
        };
        responses: {
            /** @description It was added. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CompositionRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    composition: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CompositionRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeComposition: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CompositionInput"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CompositionRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removeComposition: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    allotments: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AllotmentJobs"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    allot: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["AllotmentAsked"];
            };
        };
        responses: {
            /** @description The job. */
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AllotmentJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    compareAllotments: {
        parameters: {
            query: {
                /** @description An allotment. */
                a: string;
                /** @description Another. */
                b: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AllotmentsCompared"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    found: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["FoundAsked"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FoundAnswer"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    allotment: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AllotmentJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    stopAllotment: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["AllotmentJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    laidTable: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
                service: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LaidTable"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    wants: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Wants"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    parting: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Parting"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    lots: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Lot"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addLot: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LotColumns"];
            };
        };
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Lot"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeLot: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LotColumns"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Lot"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removeLot: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changes: {
        parameters: {
            query?: {
                limit?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Change"][];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    news: {
        parameters: {
            query?: {
                /** @description The newest change that one knows; absent: only where the history stands, at once. */
                after?: number;
                /** @description Seconds to wait when there is nothing new. */
                wait?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["News"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    undoLatest: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @description The undoing; undo it to do the change again. */
                        batch: number;
                        undid: number;
                        what: string;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    undo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                batch: components["parameters"]["batch"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        batch: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    paperKinds: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PaperKinds"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    paper: {
        parameters: {
            query?: {
                /** @description What it is about: ornament:ID, treatment:ID or shape:ID. */
                of?: string;
                /** @description Id of a form; absent: the form that tells most. */
                form?: string;
                /** @description Ids of pieces joined by commas; absent: all, or those of the lot. */
                piece?: string;
                /** @description Id of a lot. */
                lot?: string;
                /** @description What the labels are for. */
                labels?: "shelf" | "price";
                /** @description Name of a sheet, or columns x rows, label, first corner and step in mm, as 3x7,63.5x38.1,7.2x15.1,66x38.1. */
                sheet?: string;
                /** @description How many labels of the first sheet are gone. */
                skip?: string;
                /** @description Prices of pieces, as p-0041=28.00, joined by commas. */
                price?: string;
                /** @description Marks on the first photograph, as 0.40,0.62,chip at the rim, joined by |. */
                mark?: string;
                /** @description The rows of a schedule or of a wants list, as JSON. Absent: what the sales and the services come to. */
                rows?: string;
                /** @description Of a wants list without rows; absent: the newest. */
                allotment?: string;
                /** @description Of a schedule without rows; absent: that of most sales. */
                currency?: string;
                /** @description Of a schedule without rows: only the pieces that are kept there. */
                place?: string;
                /** @description Where QR codes lead, before /cupboard/ID; absent: this machine. */
                address?: string;
                /** @description Its size; a4 when absent. */
                paper?: "a4" | "letter";
                /** @description pdf when absent. */
                format?: "pdf" | "html";
                /** @description EDTF; the date that it bears. Absent: today. */
                date?: string;
                /** @description Private pieces and what was paid go along; a keeper only. */
                private?: boolean;
            };
            header?: never;
            path: {
                /** @description Which paper. */
                kind: "dossier" | "talk" | "key" | "labels" | "inventory" | "condition" | "schedule" | "wants";
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The paper. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/pdf": string;
                    "text/html": string;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    schedulePaper: {
        parameters: {
            query?: {
                /** @description The rows of a schedule or of a wants list, as JSON. */
                rows?: string;
                /** @description Its size; a4 when absent. */
                paper?: "a4" | "letter";
                /** @description pdf when absent. */
                format?: "pdf" | "html";
                /** @description EDTF; the date that it bears. Absent: today. */
                date?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The paper. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/pdf": string;
                    "text/html": string;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    sendTable: {
        parameters: {
            query?: {
                /** @description Name of the file: what problems call it. */
                name?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/octet-stream": string;
            };
        };
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        id: string;
                        name: string;
                        json: boolean;
                        sheets: {
                            name: string;
                            rows: number;
                        }[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    importFields: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        pieces: components["schemas"]["ImportFields"];
                        sales: components["schemas"]["ImportFields"];
                        treatments: components["schemas"]["ImportFields"];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    importJob: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    import: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    /** @description The id of a table that was sent. */
                    table: string;
                    /** @description Of a workbook; the first when absent. */
                    sheet?: string;
                    /** @enum {unknown} */
                    into: "pieces" | "sales" | "treatments";
                    /** @description Column of the table to field; null leaves the column out. Absent: as the same headings were understood the last time. */
                    mapping?: {
                        [key: string]: string | null;
                    } | null;
                    /**
                     * @description Tell what would happen and store nothing.
                     * @default true
                     */
                    dry_run?: boolean;
                    /** @default false */
                    keep_good?: boolean;
                    /** @description Of sales that name none. */
                    currency?: string;
                    /** @description Of treatments: the pack that they go into. */
                    pack?: string;
                    /** @description Of treatments that name none: the id of a source. */
                    source?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    stopImport: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportJob"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    export: {
        parameters: {
            query: {
                format: "csv" | "json";
                /** @description Private pieces and what was paid go along; a keeper only. */
                private?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The file. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": string;
                    "application/json": {
                        /** @constant */
                        format: "footring-cupboard-1";
                        lots: unknown[];
                        records: unknown[];
                        /** @description What is kept beside pieces and lots: sales, services, letters and the like. */
                        others?: {
                            kind: string;
                            id: string;
                            body: Record<string, never>;
                        }[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    linkedArt: {
        parameters: {
            query?: {
                /** @description What addresses in the file begin with; the program's own when absent. */
                base?: components["parameters"]["base"];
            };
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The file. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/ld+json": Record<string, never>;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    manifest: {
        parameters: {
            query?: {
                /** @description What addresses in the file begin with; the program's own when absent. */
                base?: components["parameters"]["base"];
            };
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The file. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/ld+json": Record<string, never>;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    letters: {
        parameters: {
            query?: {
                state?: "new" | "asked" | "answered" | "closed";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["LetterRecord"][];
                        total: number;
                        states: {
                            [key: string]: number;
                        };
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addLetter: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    letter: components["schemas"]["LetterInput"];
                    revision?: number;
                };
            };
        };
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LetterRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    letter: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LetterRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeLetter: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    letter: components["schemas"]["LetterInput"];
                    revision?: number;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LetterRecord"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removeLetter: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        batch: number | null;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    composeReply: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    signature?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Reply"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    replyAsPaper: {
        parameters: {
            query?: {
                /** @description Its size; a4 when absent. */
                paper?: "a4" | "letter";
                /** @description pdf when absent. */
                format?: "pdf" | "html";
            };
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The paper. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/pdf": string;
                    "text/html": string;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    sightings: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["Sighting"][];
                        total: number;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    sales: {
        parameters: {
            query?: {
                /** @description Every word has to occur in a sale. */
                q?: string;
                form?: string;
                treatment?: string;
                shape?: string;
                condition?: "" | "mint" | "good" | "fair" | "poor" | "damaged";
                grade?: "" | "first" | "second";
                market?: "" | "auction" | "dealer" | "fair" | "online" | "private";
                currency?: string;
                /** @description date when absent. */
                sort?: "date" | "price" | "form" | "treatment" | "venue" | "id";
                /** @description desc when absent. */
                order?: "asc" | "desc";
                /** @description 100 when absent; at most 1000. */
                limit?: number;
                offset?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        rows: components["schemas"]["SaleRow"][];
                        total: number;
                        currencies: {
                            code: string;
                            count: number;
                        }[];
                        venues: string[];
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    addSale: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SaleInput"];
            };
        };
        responses: {
            /** @description The answer. */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SaleRow"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    salesVocabulary: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SalesVocabulary"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    exportSales: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/csv": unknown;
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    doubtfulSales: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DoubtfulSales"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    sale: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SaleRow"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    changeSale: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SaleInput"];
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SaleRow"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    removeSale: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        removed: number;
                        batch: number | null;
                    };
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    estimate: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    piece_id?: string;
                    piece?: Record<string, never>;
                    /** @description Ids of the Book; one of form, treatment and shape at least. */
                    thing?: {
                        form?: string;
                        treatment?: string;
                        shape?: string;
                        size_mm?: number;
                    };
                    condition?: string;
                    grade?: string;
                    market?: string;
                    currency?: string;
                    date?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WorthEstimate"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    priceHistory: {
        parameters: {
            query?: {
                form?: string;
                treatment?: string;
                shape?: string;
                condition?: "" | "mint" | "good" | "fair" | "poor" | "damaged";
                market?: "" | "auction" | "dealer" | "fair" | "online" | "private";
                /** @description ISO 4217; that of most sales when absent. */
                currency?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PriceHistory"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    priceModel: {
        parameters: {
            query?: {
                /** @description ISO 4217; that of most sales when absent. */
                currency?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PriceModel"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    portfolio: {
        parameters: {
            query?: {
                /** @description ISO 4217; that of most sales when absent. */
                currency?: string;
                market?: "" | "auction" | "dealer" | "fair" | "online" | "private";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Portfolio"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    worthSchedule: {
        parameters: {
            query?: {
                /** @description ISO 4217; that of most sales when absent. */
                currency?: string;
                lot?: string;
                place?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WorthSchedule"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    haul: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    name?: string;
                    pieces?: Record<string, never>[];
                    premium_percent?: number;
                    tax_percent?: number;
                    carriage?: number;
                    selling_percent?: number;
                    selling_each?: number;
                    margin_percent?: number;
                    bid?: number | null;
                    market?: string;
                    currency?: string;
                    date?: string;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["HaulAnswer"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
    shareLotCost: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Percent-encoded; for rows of the Book bare or as pack:id. */
                id: components["parameters"]["id"];
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    apply?: boolean;
                    cost?: number | null;
                };
            };
        };
        responses: {
            /** @description The answer. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SharedCost"];
                };
            };
            default: components["responses"]["Problems"];
        };
    };
}
