"""Jobs over HTTP: kept, changed, copied, brought in and given out."""

import json

import httpx
import pytest

from plankwright.files.job_document import read_document
from plankwright.web.routes.jobs import demo_document

ROOM = {
    "job": {"name": "Den", "unit": "mm"},
    "room": {"outline": [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]},
}


def new(client: httpx.Client, document: object = ROOM) -> dict[str, object]:
    answer = client.post("/api/jobs", json={"document": document})
    assert answer.status_code == 201
    job: dict[str, object] = answer.json()
    return job


def test_a_new_job_is_in_the_list_and_its_document_comes_back(client: httpx.Client) -> None:
    job = new(client)
    assert client.get(f"/api/jobs/{job['id']}").json() == job
    lines = {line["id"]: line for line in client.get("/api/jobs").json()}
    assert lines[str(job["id"])]["name"] == "Den"


def test_a_change_is_kept_and_a_stale_one_refused(client: httpx.Client) -> None:
    job = new(client)
    path = f"/api/jobs/{job['id']}"
    changed = {**ROOM, "board": {"length": "1200", "width": "190"}}
    kept = client.put(path, json={"revision": 1, "document": changed}).json()
    assert (kept["revision"], kept["document"]) == (2, changed)
    stale = client.put(path, json={"revision": 1, "document": ROOM})
    assert stale.status_code == 409
    assert "somewhere else" in stale.json()["error"]["message"]
    assert client.get(path).json()["document"] == changed


def test_the_job_file_given_out_is_the_document(client: httpx.Client) -> None:
    job = new(client, demo_document())
    file = client.get(f"/api/jobs/{job['id']}/file")
    assert file.headers["content-disposition"] == 'attachment; filename="workroom-below-grade.toml"'
    assert read_document(file.text, "given out") == demo_document()
    again = client.post("/api/jobs/import", json={"text": file.text, "name": "den.toml"})
    assert again.json()["document"] == demo_document()


def test_a_copy_has_a_name_of_its_own(client: httpx.Client) -> None:
    job = new(client)
    copy = client.post(f"/api/jobs/{job['id']}/copy", json={"name": "Den again"}).json()
    assert copy["id"] != job["id"]
    assert copy["document"] == {**ROOM, "job": {"name": "Den again", "unit": "mm"}}


def ids(client: httpx.Client, *, put_away: bool = False) -> set[str]:
    answer = client.get("/api/jobs", params={"put_away": put_away})
    return {line["id"] for line in answer.json()}


def test_a_job_put_away_can_be_taken_out_again(client: httpx.Client) -> None:
    job_id = str(new(client)["id"])
    assert client.delete(f"/api/jobs/{job_id}").status_code == 204
    assert job_id not in ids(client)
    assert job_id in ids(client, put_away=True)
    assert client.post(f"/api/jobs/{job_id}/take-out").status_code == 204
    assert job_id in ids(client)
    assert client.delete("/api/jobs/none").status_code == 404


def test_everything_of_a_job_can_be_given_out(client: httpx.Client) -> None:
    job = new(client)
    client.put(f"/api/jobs/{job['id']}", json={"revision": 1, "document": {**ROOM, "board": {}}})
    whole = client.get(f"/api/jobs/{job['id']}/whole").json()
    assert [document["revision"] for document in whole["documents"]] == [1, 2]
    again = client.post(
        "/api/jobs/import",
        json={"text": client.get(f"/api/jobs/{job['id']}/whole").text, "name": "den.json"},
    )
    assert again.json()["error"]["message"] == "there is such a job already"


def test_a_file_that_is_no_job_file_is_told_with_its_name(client: httpx.Client) -> None:
    answer = client.post("/api/jobs/import", json={"text": "a = ", "name": "../../etc/den.toml"})
    assert answer.status_code == 400
    error = answer.json()["error"]
    assert (error["where"], set(error)) == ("den.toml", {"message", "where", "value", "remedy"})


@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)</script>",
        "'; DROP TABLE jobs;--",
        "../" * 40,
        "x" * 10_000,
        "\u202e ‮ 床",
        '"\\\u007f',
    ],
)
def test_odd_names_come_back_as_they_were(client: httpx.Client, name: str) -> None:
    job = new(client, {**ROOM, "job": {"name": name, "unit": "mm"}})
    read = client.get(f"/api/jobs/{job['id']}").json()
    assert read["document"]["job"]["name"] == name
    file = client.get(f"/api/jobs/{job['id']}/file")
    assert read_document(file.text, "file")["job"]["name"] == name
    assert len(file.headers["content-disposition"]) < 100


def test_a_room_outline_is_brought_in(client: httpx.Client) -> None:
    ring = [[0, 0], [4, 0], [4, 3], [0, 3], [0, 0]]
    text = json.dumps({"type": "Polygon", "coordinates": [ring]})
    job = client.post("/api/jobs/import", json={"text": text, "name": "den.geojson"}).json()
    assert job["document"]["room"]["outline"] == [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]
    measured = client.post("/api/measure", json={"document": job["document"]}).json()
    assert measured["room"]["area"] == "12.0 m²"
