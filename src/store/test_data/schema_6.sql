PRAGMA application_id = 1179931185;
CREATE TABLE schema_version (version INTEGER NOT NULL PRIMARY KEY, what TEXT NOT NULL, applied TEXT NOT NULL);
CREATE TABLE counter (
        name TEXT NOT NULL PRIMARY KEY,
        value INTEGER NOT NULL);
CREATE TABLE lot (
        id TEXT NOT NULL PRIMARY KEY,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL);
CREATE TABLE piece (
        no INTEGER NOT NULL PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        revision INTEGER NOT NULL,
        form TEXT NOT NULL,
        shape TEXT NOT NULL,
        lot TEXT REFERENCES lot (id),
        place TEXT NOT NULL,
        treatment TEXT NOT NULL,
        grade TEXT NOT NULL,
        decided INTEGER NOT NULL CHECK (decided IN (0, 1)),
        id_key TEXT NOT NULL,
        number_key TEXT NOT NULL,
        lot_key TEXT NOT NULL,
        place_key TEXT NOT NULL, is_private INTEGER NOT NULL DEFAULT 0 CHECK (is_private IN (0, 1)));
CREATE TABLE piece_record (
        no INTEGER NOT NULL PRIMARY KEY REFERENCES piece (no),
        record TEXT NOT NULL);
CREATE TABLE photo (
        piece TEXT NOT NULL REFERENCES piece (id),
        sha256 TEXT NOT NULL,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (piece, sha256));
CREATE TABLE batch (
        id INTEGER NOT NULL PRIMARY KEY,
        made_at TEXT NOT NULL,
        undoes INTEGER NOT NULL,
        undone_by INTEGER NOT NULL);
CREATE INDEX piece_by_revision ON piece (revision);
CREATE INDEX piece_by_form ON piece (form);
CREATE INDEX piece_by_shape ON piece (shape);
CREATE INDEX piece_by_lot ON piece (lot);
CREATE INDEX piece_by_place ON piece (place);
CREATE INDEX piece_by_treatment ON piece (treatment);
CREATE INDEX piece_by_grade ON piece (grade);
CREATE INDEX piece_by_decided ON piece (decided);
CREATE INDEX piece_by_id_key ON piece (id_key);
CREATE INDEX piece_by_number_key ON piece (number_key);
CREATE INDEX piece_by_lot_key ON piece (lot_key);
CREATE INDEX piece_by_place_key ON piece (place_key);
CREATE INDEX photo_by_sha256 ON photo (sha256);
CREATE INDEX batch_by_undoes ON batch (undoes, undone_by);
CREATE VIRTUAL TABLE piece_words USING fts5 (
        words, tokenize = 'ascii', detail = 'none', columnsize = 0, prefix = '1 2 3');
CREATE TABLE reading (
        sha256 TEXT NOT NULL PRIMARY KEY,
        packs TEXT NOT NULL,
        record TEXT NOT NULL);
CREATE TABLE kept (
        kind TEXT NOT NULL,
        id TEXT NOT NULL,
        id_key TEXT NOT NULL,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (kind, id));
CREATE INDEX kept_in_order ON kept (kind, id_key, id);
CREATE TABLE "change" (
        id INTEGER NOT NULL PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        undoes INTEGER NOT NULL,
        state_before INTEGER NOT NULL,
        state INTEGER NOT NULL,
        made_at TEXT NOT NULL,
        entity INTEGER NOT NULL CHECK (entity > 0),
        record_key TEXT NOT NULL,
        piece TEXT NOT NULL,
        what TEXT NOT NULL,
        record_before TEXT NOT NULL,
        record_after TEXT NOT NULL);
CREATE INDEX change_by_record ON change (entity, record_key);
CREATE INDEX change_by_piece ON change (piece);
CREATE INDEX change_by_batch ON change (batch);
CREATE TABLE account (
        name TEXT NOT NULL PRIMARY KEY,
        role INTEGER NOT NULL CHECK (role > 0),
        secret TEXT NOT NULL,
        created TEXT NOT NULL,
        changed TEXT NOT NULL);
CREATE TABLE session (
        digest TEXT NOT NULL PRIMARY KEY,
        account TEXT NOT NULL REFERENCES account (name),
        begun TEXT NOT NULL,
        seen TEXT NOT NULL,
        ends TEXT NOT NULL,
        origin TEXT NOT NULL);
CREATE TABLE audit (
        id INTEGER NOT NULL PRIMARY KEY,
        made_at TEXT NOT NULL,
        who TEXT NOT NULL,
        what TEXT NOT NULL,
        subject TEXT NOT NULL,
        batch INTEGER NOT NULL,
        origin TEXT NOT NULL);
CREATE INDEX session_by_account ON session (account);
CREATE INDEX audit_by_batch ON audit (batch);
CREATE INDEX audit_by_who ON audit (who);
CREATE INDEX audit_by_subject ON audit (subject);
CREATE TABLE reading_task (
        sha256 TEXT NOT NULL PRIMARY KEY,
        no INTEGER NOT NULL,
        reader TEXT NOT NULL,
        lease INTEGER NOT NULL,
        due INTEGER NOT NULL,
        tries INTEGER NOT NULL,
        dead INTEGER NOT NULL CHECK (dead IN (0, 1)),
        said TEXT NOT NULL);
CREATE INDEX reading_task_in_order ON reading_task (dead, no);
CREATE TABLE facet (
        field TEXT NOT NULL,
        value TEXT NOT NULL,
        is_private INTEGER NOT NULL CHECK (is_private IN (0, 1)),
        pieces INTEGER NOT NULL);
CREATE INDEX facet_by_value ON facet (field, value, is_private);
CREATE INDEX piece_changed ON piece (revision) WHERE revision <> no;
INSERT INTO schema_version (version, what, applied) VALUES (1, 'the first tables', '2026-03-01T09:00:00Z');
INSERT INTO schema_version (version, what, applied) VALUES (2, 'readings of photographs', '2026-03-01T09:00:00Z');
INSERT INTO schema_version (version, what, applied) VALUES (3, 'records of other kinds', '2026-03-01T09:00:00Z');
INSERT INTO schema_version (version, what, applied) VALUES (4, 'private pieces, accounts, sessions, the audit trail', '2026-03-01T09:00:00Z');
INSERT INTO schema_version (version, what, applied) VALUES (5, 'the queue of photographs to be read', '2026-03-01T09:00:00Z');
INSERT INTO schema_version (version, what, applied) VALUES (6, 'how many pieces have each value, and those that were changed', '2026-03-01T09:00:00Z');
INSERT INTO counter (name, value) VALUES ('p-', 47);
INSERT INTO counter (name, value) VALUES ('sale-', 2);
INSERT INTO counter (name, value) VALUES ('task', 2);
INSERT INTO lot (id, revision, record) VALUES ('lot-barn', 12, '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","note":"Two boxes","revision":12}');
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (2, 'p-0041', 3, 'plate', 'harrow', 'lot-barn', 'top shelf', 'demo:t-117', 'first', 1, '0p-000000000041', '0000000000001?000000000007', '0barn sale', '0top shelf', 0);
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (8, 'p-0043', 8, 'saucer', '', NULL, '', '', '', 0, '0p-000000000043', '~', '~', '~', 0);
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (22, 'p-0044', 22, 'cup', '', NULL, '', '', '', 0, '0p-000000000044', '~', '~', '~', 1);
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (23, 'p-0045', 24, 'jug', '', NULL, 'Shelf 7', '', '', 0, '0p-000000000045', '~', '~', '0shelf 000000000007', 0);
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (25, 'p-0046', 25, 'jug', '', NULL, 'Shelf 6', '', '', 0, '0p-000000000046', '~', '~', '0shelf 000000000006', 0);
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key, is_private) VALUES (26, 'p-0047', 26, 'jug', '', NULL, 'Shelf 6', '', '', 0, '0p-000000000047', '~', '~', '0shelf 000000000006', 1);
INSERT INTO piece_record (no, record) VALUES (2, '{"attribution":{"answer":{"open":{"unlisted":0.02},"piece":"p-0041"},"packs":"demo@1 abc","when":"2026-02-01"},"changed":"2026-03-01T09:30:03Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","decision":{"date":"1931/1934","grade":"first","note":"rim agrees","treatment":"demo:t-117"},"lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"},"wear":"moderate"},"place":"top shelf","revision":3,"search_words":"117 Oat Fern"}');
INSERT INTO piece_record (no, record) VALUES (8, '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"saucer","id":"p-0043","looks":[]},"revision":8}');
INSERT INTO piece_record (no, record) VALUES (22, '{"changed":"2026-03-01T09:30:27Z","created":"2026-03-01T09:30:25Z","note":"a present","piece":{"form":"cup","id":"p-0044","looks":[]},"private":true,"revision":22}');
INSERT INTO piece_record (no, record) VALUES (23, '{"changed":"2026-03-01T09:30:29Z","created":"2026-03-01T09:30:28Z","note":"first","piece":{"form":"jug","id":"p-0045","looks":[]},"place":"Shelf 7","revision":24}');
INSERT INTO piece_record (no, record) VALUES (25, '{"changed":"2026-03-01T09:30:30Z","created":"2026-03-01T09:30:30Z","note":"second","piece":{"form":"jug","id":"p-0046","looks":[]},"place":"Shelf 6","revision":25}');
INSERT INTO piece_record (no, record) VALUES (26, '{"changed":"2026-03-01T09:30:31Z","created":"2026-03-01T09:30:31Z","note":"third","piece":{"form":"jug","id":"p-0047","looks":[]},"place":"Shelf 6","private":true,"revision":26}');
INSERT INTO photo (piece, sha256, revision, record) VALUES ('p-0041', '00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4', 14, '{"added":"2026-03-01T09:30:12Z","bytes":10,"corrections":{"repeats":9},"height":3,"name":"side.jpg","piece":"p-0041","sha256":"00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4","type":"image/jpeg","width":4}');
INSERT INTO photo (piece, sha256, revision, record) VALUES ('p-0041', '12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151', 4, '{"added":"2026-03-01T09:30:04Z","bytes":11,"height":3,"name":"front.jpg","piece":"p-0041","sha256":"12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151","type":"image/jpeg","width":4}');
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (1, '2026-03-01T09:30:01Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (2, '2026-03-01T09:30:02Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (3, '2026-03-01T09:30:03Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (4, '2026-03-01T09:30:04Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (5, '2026-03-01T09:30:05Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (6, '2026-03-01T09:30:06Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (7, '2026-03-01T09:30:07Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (8, '2026-03-01T09:30:08Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (9, '2026-03-01T09:30:09Z', 8, 10);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (10, '2026-03-01T09:30:10Z', 9, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (11, '2026-03-01T09:30:11Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (12, '2026-03-01T09:30:12Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (13, '2026-03-01T09:30:14Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (14, '2026-03-01T09:30:15Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (15, '2026-03-01T09:30:16Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (16, '2026-03-01T09:30:17Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (17, '2026-03-01T09:30:18Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (18, '2026-03-01T09:30:25Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (19, '2026-03-01T09:30:26Z', 18, 20);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (20, '2026-03-01T09:30:27Z', 19, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (21, '2026-03-01T09:30:28Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (22, '2026-03-01T09:30:29Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (23, '2026-03-01T09:30:30Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (24, '2026-03-01T09:30:31Z', 0, 0);
INSERT INTO piece_words (rowid, words) VALUES (2, '0041 117 17 7 agrees barn creme demot117 fern fernpair glaze harrow lotbarn oat p0041 pair plate quoted rim sale shelf t117 top twice');
INSERT INTO piece_words (rowid, words) VALUES (8, '0043 p0043 saucer');
INSERT INTO piece_words (rowid, words) VALUES (22, '0044 a cup p0044 present');
INSERT INTO piece_words (rowid, words) VALUES (23, '0045 7 first jug p0045 shelf');
INSERT INTO piece_words (rowid, words) VALUES (25, '0046 6 jug p0046 second shelf');
INSERT INTO piece_words (rowid, words) VALUES (26, '0047 6 jug p0047 shelf third');
INSERT INTO reading (sha256, packs, record) VALUES ('00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4', 'demo@1 abc', '{"asked":{"side":"front"},"found":{"notes":["read"]},"packs":"demo@1 abc","pictures":{"strip":"affc35bd6c6352aa"},"sha256":"00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4","when":"2026-03-01T09:30:13Z"}');
INSERT INTO kept (kind, id, id_key, revision, record) VALUES ('letter', 'letter-from-the-harbour', '0letter-from-the-harbour', 17, '{"body":{"asked":"What is it?","pieces":["p-0041"]},"changed":"2026-03-01T09:30:17Z","created":"2026-03-01T09:30:17Z","id":"letter-from-the-harbour","kind":"letter","revision":17}');
INSERT INTO kept (kind, id, id_key, revision, record) VALUES ('sale', 'sale-0001', '0sale-000000000001', 16, '{"body":{"currency":"GBP","house":"Harbour auction","price":24.5,"sold":"2026-02-14","treatment":"demo:t-117"},"changed":"2026-03-01T09:30:16Z","created":"2026-03-01T09:30:15Z","id":"sale-0001","kind":"sale","revision":16}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (1, 1, 0, 0, 1, '2026-03-01T09:30:01Z', 2, 'lot-barn', '', 'Lot added. Name: Barn sale. Date: 2026-02~. Cost: 40 GBP.', '', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","revision":1}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (2, 2, 0, 0, 2, '2026-03-01T09:30:02Z', 1, 'p-0041', 'p-0041', 'Found at the bottom of the box.', '', '{"changed":"2026-03-01T09:30:02Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"}},"place":"top shelf","revision":2}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (3, 3, 0, 2, 3, '2026-03-01T09:30:03Z', 1, 'p-0041', 'p-0041', 'Wear: moderate. Decided: demo:t-117, first, 1931/1934. Decision''s note: rim agrees. The engine''s answer is kept with it.', '{"changed":"2026-03-01T09:30:02Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"}},"place":"top shelf","revision":2}', '{"attribution":{"answer":{"open":{"unlisted":0.02},"piece":"p-0041"},"packs":"demo@1 abc","when":"2026-02-01"},"changed":"2026-03-01T09:30:03Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","decision":{"date":"1931/1934","grade":"first","note":"rim agrees","treatment":"demo:t-117"},"lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"},"wear":"moderate"},"place":"top shelf","revision":3,"search_words":"117 Oat Fern"}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (4, 4, 0, 0, 4, '2026-03-01T09:30:04Z', 3, 'p-0041/12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151', 'p-0041', 'Photograph front.jpg added.', '', '{"added":"2026-03-01T09:30:04Z","bytes":11,"height":3,"name":"front.jpg","piece":"p-0041","sha256":"12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (5, 5, 0, 0, 5, '2026-03-01T09:30:05Z', 3, 'p-0041/a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a', 'p-0041', 'Photograph back.jpg added.', '', '{"added":"2026-03-01T09:30:05Z","bytes":10,"height":3,"name":"back.jpg","piece":"p-0041","sha256":"a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (6, 6, 0, 5, 6, '2026-03-01T09:30:06Z', 3, 'p-0041/a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a', 'p-0041', 'Photograph back.jpg removed.', '{"added":"2026-03-01T09:30:05Z","bytes":10,"height":3,"name":"back.jpg","piece":"p-0041","sha256":"a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a","type":"image/jpeg","width":4}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (7, 7, 0, 0, 7, '2026-03-01T09:30:07Z', 1, 'p-0042', 'p-0042', 'Added. Form: cup.', '', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":7}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (8, 7, 0, 0, 8, '2026-03-01T09:30:07Z', 1, 'p-0043', 'p-0043', 'Added. Form: saucer.', '', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"saucer","id":"p-0043","looks":[]},"revision":8}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (9, 8, 0, 7, 9, '2026-03-01T09:30:08Z', 1, 'p-0042', 'p-0042', 'Broken.', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":7}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (10, 9, 9, 9, 7, '2026-03-01T09:30:09Z', 1, 'p-0042', 'p-0042', 'Undone: Broken.', '', '{"changed":"2026-03-01T09:30:09Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":10}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (11, 10, 10, 7, 9, '2026-03-01T09:30:10Z', 1, 'p-0042', 'p-0042', 'Done again: Broken.', '{"changed":"2026-03-01T09:30:09Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":10}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (12, 11, 0, 1, 12, '2026-03-01T09:30:11Z', 2, 'lot-barn', '', 'Note: Two boxes.', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","revision":1}', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","note":"Two boxes","revision":12}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (13, 12, 0, 0, 13, '2026-03-01T09:30:12Z', 3, 'p-0041/00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4', 'p-0041', 'Photograph side.jpg added.', '', '{"added":"2026-03-01T09:30:12Z","bytes":10,"height":3,"name":"side.jpg","piece":"p-0041","sha256":"00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (14, 13, 0, 13, 14, '2026-03-01T09:30:14Z', 3, 'p-0041/00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4', 'p-0041', 'Reading of side.jpg corrected.', '{"added":"2026-03-01T09:30:12Z","bytes":10,"height":3,"name":"side.jpg","piece":"p-0041","sha256":"00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4","type":"image/jpeg","width":4}', '{"added":"2026-03-01T09:30:12Z","bytes":10,"corrections":{"repeats":9},"height":3,"name":"side.jpg","piece":"p-0041","sha256":"00b3f577b17db4c0caf3d6c9711a8fc375306b4725c6b137198f174579f309a4","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (15, 14, 0, 0, 15, '2026-03-01T09:30:15Z', 4, 'sale/sale-0001', '', 'Sale added. Currency: GBP. Price: 24.5. Sold: 2026-02-14. Treatment: demo:t-117.', '', '{"body":{"currency":"GBP","price":24.5,"sold":"2026-02-14","treatment":"demo:t-117"},"changed":"2026-03-01T09:30:15Z","created":"2026-03-01T09:30:15Z","id":"sale-0001","kind":"sale","revision":15}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (16, 15, 0, 15, 16, '2026-03-01T09:30:16Z', 4, 'sale/sale-0001', '', 'House: Harbour auction.', '{"body":{"currency":"GBP","price":24.5,"sold":"2026-02-14","treatment":"demo:t-117"},"changed":"2026-03-01T09:30:15Z","created":"2026-03-01T09:30:15Z","id":"sale-0001","kind":"sale","revision":15}', '{"body":{"currency":"GBP","house":"Harbour auction","price":24.5,"sold":"2026-02-14","treatment":"demo:t-117"},"changed":"2026-03-01T09:30:16Z","created":"2026-03-01T09:30:15Z","id":"sale-0001","kind":"sale","revision":16}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (17, 16, 0, 0, 17, '2026-03-01T09:30:17Z', 4, 'letter/letter-from-the-harbour', '', 'Two at once.', '', '{"body":{"asked":"What is it?","pieces":["p-0041"]},"changed":"2026-03-01T09:30:17Z","created":"2026-03-01T09:30:17Z","id":"letter-from-the-harbour","kind":"letter","revision":17}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (18, 16, 0, 0, 18, '2026-03-01T09:30:17Z', 4, 'sale/sale-0002', '', 'Two at once.', '', '{"body":{"price":3},"changed":"2026-03-01T09:30:17Z","created":"2026-03-01T09:30:17Z","id":"sale-0002","kind":"sale","revision":18}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (19, 17, 0, 18, 19, '2026-03-01T09:30:18Z', 4, 'sale/sale-0002', '', 'Sale removed.', '{"body":{"price":3},"changed":"2026-03-01T09:30:17Z","created":"2026-03-01T09:30:17Z","id":"sale-0002","kind":"sale","revision":18}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (20, 18, 0, 0, 20, '2026-03-01T09:30:25Z', 1, 'p-0044', 'p-0044', 'Added. Form: cup. Private from now on. Note: a present.', '', '{"changed":"2026-03-01T09:30:25Z","created":"2026-03-01T09:30:25Z","note":"a present","piece":{"form":"cup","id":"p-0044","looks":[]},"private":true,"revision":20}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (21, 19, 20, 20, 0, '2026-03-01T09:30:26Z', 1, 'p-0044', 'p-0044', 'Undone: Added. Form: cup. Private from now on. Note: a present.', '{"changed":"2026-03-01T09:30:25Z","created":"2026-03-01T09:30:25Z","note":"a present","piece":{"form":"cup","id":"p-0044","looks":[]},"private":true,"revision":20}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (22, 20, 21, 0, 20, '2026-03-01T09:30:27Z', 1, 'p-0044', 'p-0044', 'Done again: Added. Form: cup. Private from now on. Note: a present.', '', '{"changed":"2026-03-01T09:30:27Z","created":"2026-03-01T09:30:25Z","note":"a present","piece":{"form":"cup","id":"p-0044","looks":[]},"private":true,"revision":22}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (23, 21, 0, 0, 23, '2026-03-01T09:30:28Z', 1, 'p-0045', 'p-0045', 'Added. Form: jug. Kept at: Shelf 6. Note: first.', '', '{"changed":"2026-03-01T09:30:28Z","created":"2026-03-01T09:30:28Z","note":"first","piece":{"form":"jug","id":"p-0045","looks":[]},"place":"Shelf 6","revision":23}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (24, 22, 0, 23, 24, '2026-03-01T09:30:29Z', 1, 'p-0045', 'p-0045', 'Kept at: Shelf 7.', '{"changed":"2026-03-01T09:30:28Z","created":"2026-03-01T09:30:28Z","note":"first","piece":{"form":"jug","id":"p-0045","looks":[]},"place":"Shelf 6","revision":23}', '{"changed":"2026-03-01T09:30:29Z","created":"2026-03-01T09:30:28Z","note":"first","piece":{"form":"jug","id":"p-0045","looks":[]},"place":"Shelf 7","revision":24}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (25, 23, 0, 0, 25, '2026-03-01T09:30:30Z', 1, 'p-0046', 'p-0046', 'Added. Form: jug. Kept at: Shelf 6. Note: second.', '', '{"changed":"2026-03-01T09:30:30Z","created":"2026-03-01T09:30:30Z","note":"second","piece":{"form":"jug","id":"p-0046","looks":[]},"place":"Shelf 6","revision":25}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (26, 24, 0, 0, 26, '2026-03-01T09:30:31Z', 1, 'p-0047', 'p-0047', 'Added. Form: jug. Private from now on. Kept at: Shelf 6. Note: third.', '', '{"changed":"2026-03-01T09:30:31Z","created":"2026-03-01T09:30:31Z","note":"third","piece":{"form":"jug","id":"p-0047","looks":[]},"place":"Shelf 6","private":true,"revision":26}');
INSERT INTO account (name, role, secret, created, changed) VALUES ('ada', 3, 'digest of a password', '2026-03-01T09:30:19Z', '2026-03-01T09:30:19Z');
INSERT INTO account (name, role, secret, created, changed) VALUES ('ben', 1, 'another', '2026-03-01T09:30:21Z', '2026-03-01T09:30:21Z');
INSERT INTO session (digest, account, begun, seen, ends, origin) VALUES ('0a1b', 'ada', '2026-03-01T10:00:00Z', '2026-03-01T10:00:00Z', '2036-03-01T10:00:00Z', '192.168.0.7');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (1, '2026-03-01T09:30:20Z', 'ada', 'Account added, as keeper.', 'account ada', 0, '');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (2, '2026-03-01T09:30:22Z', 'ada', 'Account added, as reader.', 'account ben', 0, '');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (3, '2026-03-01T09:30:24Z', 'ada', 'Signed in.', 'account ada', 0, '192.168.0.7');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (4, '2026-03-01T09:30:25Z', 'ada', 'Added. Form: cup. Private from now on. Note: a present.', 'piece p-0044', 18, '');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (5, '2026-03-01T09:30:26Z', 'ada', 'Undone: Added. Form: cup. Private from now on. Note: a present.', 'piece p-0044', 19, '');
INSERT INTO audit (id, made_at, who, what, subject, batch, origin) VALUES (6, '2026-03-01T09:30:27Z', 'ada', 'Done again: Added. Form: cup. Private from now on. Note: a present.', 'piece p-0044', 20, '');
INSERT INTO reading_task (sha256, no, reader, lease, due, tries, dead, said) VALUES ('12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151', 1, 'reader-1', 0, 1796053828, 5, 1, 'front.jpg: it is torn: photograph it again');
INSERT INTO reading_task (sha256, no, reader, lease, due, tries, dead, said) VALUES ('a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a', 2, '', 0, 0, 0, 0, '');
INSERT INTO facet (field, value, is_private, pieces) VALUES ('decided', 'no', 0, 3);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('decided', 'no', 1, 2);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('decided', 'yes', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('form', 'cup', 1, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('form', 'jug', 0, 2);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('form', 'jug', 1, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('form', 'plate', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('form', 'saucer', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('grade', 'first', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('lot', 'lot-barn', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('place', 'Shelf 6', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('place', 'Shelf 6', 1, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('place', 'Shelf 7', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('place', 'top shelf', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('shape', 'harrow', 0, 1);
INSERT INTO facet (field, value, is_private, pieces) VALUES ('treatment', 'demo:t-117', 0, 1);
